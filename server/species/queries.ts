import { and, asc, eq, inArray, ne, or, sql } from 'drizzle-orm';
import { type CareText, careHeadings, type SubstrateLayer } from '../../shared/species/columns.ts';
import { scientificNamesLike } from '../../shared/species/common-names.ts';
import type { SpeciesRecord } from '../../shared/species/form-values.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  cultures,
  orderLines,
  orders,
  species,
  speciesCare,
  speciesLayerParts,
  speciesLayers,
} from '../schema/tables.ts';

export type Species = typeof species.$inferSelect;

export function namesOfSpecies(db: Db) {
  return db
    .select({ id: species.id, scientificName: species.scientificName, commonName: species.commonName })
    .from(species)
    .orderBy(asc(species.scientificName))
    .all();
}

export type SpeciesFilter = { words: string; retired: boolean };

/** Species by name with their cultures; words look at both names and at the names the trade uses besides. */
export function listSpecies(db: Db, { words, retired }: SpeciesFilter) {
  const pattern = `%${words.replace(/[\\%_]/g, (sign) => `\\${sign}`)}%`;
  const alsoCalled = scientificNamesLike(words);
  // Written out: inside a select of one table the columns would lose the names of their tables.
  const countOf = (status: string) => sql<number>`(SELECT count(*) FROM cultures
    WHERE cultures.species_id = species.id AND cultures.status = ${status})`;
  return db
    .select({ species, active: countOf('active'), quarantine: countOf('quarantine') })
    .from(species)
    .where(
      and(
        retired ? sql`${species.retiredAt} IS NOT NULL` : sql`${species.retiredAt} IS NULL`,
        words === ''
          ? undefined
          : or(
              sql`${species.scientificName} LIKE ${pattern} ESCAPE '\\'`,
              sql`${species.commonName} LIKE ${pattern} ESCAPE '\\'`,
              alsoCalled.length > 0 ? inArray(species.scientificName, alsoCalled) : undefined,
            ),
      ),
    )
    .orderBy(asc(species.scientificName))
    .all();
}

export function hasSpecies(db: Db): boolean {
  return db.select({ id: species.id }).from(species).limit(1).get() !== undefined;
}

export function countRetired(db: Db): number {
  return (
    db.select({ n: sql<number>`count(*)` }).from(species).where(sql`${species.retiredAt} IS NOT NULL`).get()
      ?.n ?? 0
  );
}

export function readSpecies(db: Db, id: number): Species | undefined {
  return db.select().from(species).where(eq(species.id, id)).get();
}

export function speciesNamed(db: Db, scientificName: string): Species | undefined {
  return db.select().from(species).where(eq(species.scientificName, scientificName)).get();
}

/** The care text by heading; a heading nobody wrote is empty. */
export function readCare(db: Db, speciesId: number): CareText {
  const rows = db.select().from(speciesCare).where(eq(speciesCare.speciesId, speciesId)).all();
  const text = new Map(rows.map((row) => [row.heading, row.text]));
  return Object.fromEntries(careHeadings.map((heading) => [heading, text.get(heading) ?? ''])) as CareText;
}

/** The layers from the bottom up, with what each is mixed from. */
export function readLayers(db: Db, speciesId: number): SubstrateLayer[] {
  const parts = db
    .select({ part: speciesLayerParts })
    .from(speciesLayerParts)
    .innerJoin(speciesLayers, eq(speciesLayers.id, speciesLayerParts.layerId))
    .where(eq(speciesLayers.speciesId, speciesId))
    .orderBy(asc(speciesLayerParts.position))
    .all();
  return db
    .select()
    .from(speciesLayers)
    .where(eq(speciesLayers.speciesId, speciesId))
    .orderBy(asc(speciesLayers.position))
    .all()
    .map(({ id, name, depthMm }) => ({
      name,
      depthMm,
      parts: parts
        .filter(({ part }) => part.layerId === id)
        .map(({ part: { material, parts: share, settling } }) => ({ material, parts: share, settling })),
    }));
}

/** The row as the form edits it. */
export function recordOf(row: Species, care: CareText): SpeciesRecord {
  const { scientificName, commonName, animalGroup, homeEnclosureId, cautions } = row;
  return { scientificName, commonName, animalGroup, homeEnclosureId, cautions, figures: row, care };
}

/** The columns of a species that the form decides. */
export function columnsOf({ care: _care, figures, ...names }: SpeciesRecord) {
  return { ...names, ...figures };
}

function writeCare(tx: Db, speciesId: number, care: CareText) {
  tx.delete(speciesCare).where(eq(speciesCare.speciesId, speciesId)).run();
  for (const heading of careHeadings) {
    if (care[heading] !== '')
      tx.insert(speciesCare).values({ speciesId, heading, text: care[heading] }).run();
  }
}

/** Replaces the English care text and cautions, and nothing else of a species. */
export function saveEnglishWords(
  tx: Db,
  id: number,
  { text, cautions }: { text: CareText; cautions: string },
) {
  tx.update(species).set({ cautions }).where(eq(species.id, id)).run();
  writeCare(tx, id, text);
}

function writeLayers(tx: Db, speciesId: number, layers: readonly SubstrateLayer[]) {
  tx.delete(speciesLayers).where(eq(speciesLayers.speciesId, speciesId)).run();
  for (const [position, { name, depthMm, parts }] of layers.entries()) {
    const { id } = tx
      .insert(speciesLayers)
      .values({ speciesId, position, name, depthMm })
      .returning({ id: speciesLayers.id })
      .get();
    for (const [at, part] of parts.entries())
      tx.insert(speciesLayerParts)
        .values({ layerId: id, position: at, ...part })
        .run();
  }
}

export function insertSpecies(tx: Db, record: SpeciesRecord, layers: readonly SubstrateLayer[]): number {
  const { id } = tx.insert(species).values(columnsOf(record)).returning({ id: species.id }).get();
  writeCare(tx, id, record.care);
  writeLayers(tx, id, layers);
  return id;
}

export function updateSpecies(tx: Db, id: number, record: SpeciesRecord, layers: readonly SubstrateLayer[]) {
  tx.update(species).set(columnsOf(record)).where(eq(species.id, id)).run();
  writeCare(tx, id, record.care);
  writeLayers(tx, id, layers);
}

/** Moves one limit of what is safe on the way, and nothing else of a species. */
export function setSafeLimit(tx: Db, id: number, side: 'low' | 'high', limitC: number) {
  tx.update(species)
    .set(side === 'low' ? { safeLowC: limitC } : { safeHighC: limitC })
    .where(eq(species.id, id))
    .run();
}

export function setSpeciesRetired(tx: Db, id: number, retiredAt: number | null) {
  tx.update(species).set({ retiredAt }).where(eq(species.id, id)).run();
}

/** Ids of the cultures of a species that are kept now. */
export function culturesOfSpecies(db: Db, speciesId: number): number[] {
  return db
    .select({ id: cultures.id })
    .from(cultures)
    .where(and(eq(cultures.speciesId, speciesId), ne(cultures.status, 'retired')))
    .all()
    .map((culture) => culture.id);
}

/** Numbers of the orders that promise animals of a species and have not been packed. */
export function ordersPromising(db: Db, speciesId: number): number[] {
  return db
    .selectDistinct({ number: orders.number })
    .from(orders)
    .innerJoin(orderLines, eq(orderLines.orderId, orders.id))
    .where(and(eq(orderLines.speciesId, speciesId), inArray(orders.state, ['draft', 'confirmed'])))
    .orderBy(asc(orders.number))
    .all()
    .map((order) => order.number);
}
