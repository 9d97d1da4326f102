import { and, asc, desc, eq, like, ne, or, type SQL, sql } from 'drizzle-orm';
import type { CultureFilter } from '../../shared/cultures/form.ts';
import { codeLetters, nextCode } from '../../shared/cultures/next-code.ts';
import { isOpen } from '../orders/queries-open.ts';
import { notFound } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  allocations,
  cultureEstimates,
  cultureParents,
  cultures,
  enclosures,
  lines,
  places,
  species,
} from '../schema/tables.ts';
import { cultureWithWords } from './queries-words.ts';

export type Culture = typeof cultures.$inferSelect;

export const pageSize = 60;

const byNumber = new Intl.Collator('en', { numeric: true });

function conditions(f: CultureFilter): SQL | undefined {
  const wanted = f.q && `%${f.q.replace(/[\\%_]/g, (c) => `\\${c}`)}%`;
  const contains = (column: SQL | Parameters<typeof like>[0]) => sql`${column} LIKE ${wanted} ESCAPE '\\'`;
  return and(
    f.status === 'current' ? ne(cultures.status, 'retired') : eq(cultures.status, f.status),
    f.species ? eq(cultures.speciesId, f.species) : undefined,
    f.place
      ? sql`${places.shelfOrder} LIKE (SELECT shelf_order || '%' FROM places WHERE id = ${f.place})`
      : undefined,
    wanted
      ? or(
          contains(cultures.code),
          contains(species.scientificName),
          contains(species.commonName),
          contains(cultures.morph),
          contains(lines.name),
          contains(places.fullName),
          cultureWithWords(f.q),
        )
      : undefined,
  );
}

function order(f: CultureFilter): SQL[] {
  const way = f.down ? desc : asc;
  const by = {
    place: [way(sql`coalesce(${places.shelfOrder}, '~')`)],
    code: [way(cultures.code)],
    species: [way(species.scientificName)],
    animals: [way(sql`coalesce(${cultureEstimates.median}, -1)`)],
    fullness: [way(sql`coalesce(${cultureEstimates.fullnessMedian}, -1)`)],
    checked: [way(sql`coalesce(${cultureEstimates.lastCheckOn}, '')`)],
  }[f.sort];
  return [...by, asc(cultures.code)];
}

function listed(db: Db) {
  return db
    .select({
      id: cultures.id,
      code: cultures.code,
      morph: cultures.morph,
      status: cultures.status,
      foundedOn: cultures.foundedOn,
      scientificName: species.scientificName,
      commonName: species.commonName,
      line: lines.name,
      place: places.fullName,
      estimate: cultureEstimates,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id));
}

export function listCultures(db: Db, f: CultureFilter) {
  const rows = listed(db)
    .where(conditions(f))
    .orderBy(...order(f))
    .limit(pageSize)
    .offset((f.page - 1) * pageSize)
    .all();
  const total = db
    .select({ n: sql<number>`count(*)` })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .where(conditions(f))
    .get();
  return { rows, total: total?.n ?? 0 };
}

export function findCulture(db: Db, code: string): Culture | undefined {
  return db.select().from(cultures).where(eq(cultures.code, code)).get();
}

export function cultureNumbered(db: Db, id: number): Culture | undefined {
  return Number.isSafeInteger(id) ? db.select().from(cultures).where(eq(cultures.id, id)).get() : undefined;
}

/** The culture with that code and all that names it, or "not found". */
export function loadCulture(db: Db, code: string) {
  const row = db
    .select({ culture: cultures, species, enclosure: enclosures, line: lines, place: places })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(enclosures, eq(enclosures.id, cultures.enclosureId))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .where(eq(cultures.code, code))
    .get();
  if (!row) throw notFound('culture');
  return row;
}
export type LoadedCulture = ReturnType<typeof loadCulture>;

export function parentsOf(db: Db, cultureId: number) {
  return db
    .select({ code: cultures.code, animals: cultureParents.animals, status: cultures.status })
    .from(cultureParents)
    .innerJoin(cultures, eq(cultures.id, cultureParents.parentId))
    .where(eq(cultureParents.cultureId, cultureId))
    .orderBy(cultures.code)
    .all();
}

export function childrenOf(db: Db, cultureId: number) {
  return db
    .select({
      code: cultures.code,
      animals: cultureParents.animals,
      foundedOn: cultures.foundedOn,
      status: cultures.status,
    })
    .from(cultureParents)
    .innerJoin(cultures, eq(cultures.id, cultureParents.cultureId))
    .where(eq(cultureParents.parentId, cultureId))
    .orderBy(cultures.foundedOn, cultures.code)
    .all();
}

/** A free code for a new culture of the species, after those its cultures bear now. */
export function suggestCode(db: Db, speciesId: number): string {
  const own = db
    .select({ code: cultures.code })
    .from(cultures)
    .where(eq(cultures.speciesId, speciesId))
    .orderBy(desc(cultures.id))
    .all();
  const name =
    db.select({ name: species.scientificName }).from(species).where(eq(species.id, speciesId)).get()?.name ??
    '';
  const letters = /^(.*?)[-. ]?\d+$/.exec(own[0]?.code ?? '')?.[1] || codeLetters(name);
  const alike = db
    .select({ code: cultures.code })
    .from(cultures)
    .where(like(cultures.code, `${letters}%`))
    .all();
  return nextCode(
    alike.map((c) => c.code),
    letters,
  );
}

export function addCulture(tx: Db, values: Omit<typeof cultures.$inferInsert, 'id'>): number {
  return tx.insert(cultures).values(values).returning({ id: cultures.id }).get().id;
}

export function changeCulture(
  tx: Db,
  id: number,
  values: Pick<Culture, 'code' | 'morph' | 'lineId' | 'enclosureId' | 'note'>,
) {
  tx.update(cultures).set(values).where(eq(cultures.id, id)).run();
}

/** What a form offers to choose from. */
export function choices(db: Db) {
  return {
    species: db
      .select({ id: species.id, scientificName: species.scientificName, commonName: species.commonName })
      .from(species)
      .where(sql`${species.retiredAt} IS NULL`)
      .orderBy(species.scientificName)
      .all(),
    lines: db
      .select({ id: lines.id, name: lines.name, speciesId: lines.speciesId })
      .from(lines)
      .orderBy(lines.name)
      .all(),
    enclosures: db
      .select({ id: enclosures.id, name: enclosures.name })
      .from(enclosures)
      .where(sql`${enclosures.retiredAt} IS NULL`)
      .all()
      .sort((a, b) => byNumber.compare(a.name, b.name)),
    places: db
      .select({ id: places.id, name: places.fullName })
      .from(places)
      .where(sql`${places.retiredAt} IS NULL`)
      .orderBy(places.shelfOrder)
      .all(),
  };
}

export function hasCultures(db: Db): boolean {
  return db.select({ id: cultures.id }).from(cultures).limit(1).get() !== undefined;
}

/** Animals promised to orders that have not left yet. */
export function promisedOf(db: Db, cultureId: number): number {
  return (
    db
      .select({ n: sql<number>`coalesce(sum(${allocations.animals}), 0)` })
      .from(allocations)
      .where(and(eq(allocations.cultureId, cultureId), isOpen))
      .get()?.n ?? 0
  );
}
