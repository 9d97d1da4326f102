import { and, eq } from 'drizzle-orm';
import { addCulture } from '../../server/cultures/queries.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { cultureParents, cultures, enclosures, lines, places, species } from '../../server/schema/tables.ts';
import type { Chance } from './chance.ts';
import type { Colony } from './colony.ts';
import { broods } from './development.ts';
import { feedFromCultures } from './meals.ts';
import { cast, livesOf } from './story.ts';
import { trouble } from './trouble.ts';

type Staff = { owner: string; helper: string };

/** Noon of a day, UTC: when the demo's people wrote it down. */
export const noonOf = (day: string) => Date.parse(`${day}T11:00:00Z`);

function lineFor(tx: Db, speciesId: number, index: number): number {
  const name = String.fromCharCode(65 + index);
  const there = tx
    .select({ id: lines.id })
    .from(lines)
    .where(and(eq(lines.speciesId, speciesId), eq(lines.name, name)))
    .get();
  if (there) return there.id;
  const locality = index === 0 ? 'bought in as captive bred' : 'from a friend’s colony';
  return tx.insert(lines).values({ speciesId, name, locality, note: '' }).returning({ id: lines.id }).get()
    .id;
}

function shelvesOf(tx: Db): number[] {
  return tx
    .select({ id: places.id })
    .from(places)
    .where(eq(places.kind, 'position'))
    .orderBy(places.shelfOrder)
    .all()
    .map((p) => p.id);
}

function writeColony(
  tx: Db,
  colony: Colony,
  o: { enclosureId: number; placeId: number | null; ids: Map<string, number>; staff: Staff },
) {
  const madeAt = noonOf(colony.foundedOn);
  const id = addCulture(tx, {
    code: colony.code,
    speciesId: colony.species.id,
    morph: '',
    lineId: lineFor(tx, colony.species.id, colony.lineIndex),
    enclosureId: o.enclosureId,
    placeId: o.placeId,
    foundedOn: colony.foundedOn,
    origin: colony.parent ? 'split' : 'bought',
    foundingAnimals: colony.foundingAnimals,
    foundingSdLog: 0.02,
    status: 'active',
    note: '',
    madeBy: o.staff.owner,
    madeAt,
  });
  o.ids.set(colony.code, id);
  const parentId = colony.parent ? o.ids.get(colony.parent) : undefined;
  if (parentId)
    tx.insert(cultureParents).values({ cultureId: id, parentId, animals: colony.foundingAnimals }).run();
}

function writeDiary(tx: Db, colony: Colony, ids: Map<string, number>, staff: Staff) {
  const cultureId = ids.get(colony.code);
  if (cultureId === undefined) return;
  for (const { by, otherCode, ...entry } of colony.entries) {
    const otherCultureId = otherCode ? (ids.get(otherCode) ?? null) : null;
    appendEntry(tx, {
      ...entry,
      otherCultureId,
      cultureId,
      via: 'demo',
      madeBy: staff[by],
      madeAt: noonOf(entry.onDay),
    });
  }
}

/** Simulates the demo's year and a half and writes it down as its people would have. */
export function writeStory(tx: Db, chance: Chance, today: string, staff: Staff) {
  const colonies: Colony[] = [];
  const enclosureOf = new Map<string, number>();
  for (const plan of cast) {
    const row = tx.select().from(species).where(eq(species.scientificName, plan.scientificName)).get();
    const enclosure = tx.select().from(enclosures).where(eq(enclosures.name, plan.enclosure)).get();
    if (!row || !enclosure) throw new Error(`The demo needs ${plan.scientificName} and ${plan.enclosure}.`);
    for (const colony of livesOf(chance, row, enclosure, plan, today)) {
      colonies.push(colony);
      enclosureOf.set(colony.code, enclosure.id);
    }
  }
  feedFromCultures(colonies, today);
  trouble(colonies, today);
  broods(colonies, today);
  const shelves = shelvesOf(tx);
  const ids = new Map<string, number>();
  for (const [i, colony] of colonies.entries()) {
    const placeId = shelves[Math.floor((i * shelves.length) / colonies.length)] ?? null;
    writeColony(tx, colony, { enclosureId: enclosureOf.get(colony.code) ?? 0, placeId, ids, staff });
  }
  for (const colony of colonies) writeDiary(tx, colony, ids, staff);
  return tx.select({ n: cultures.id }).from(cultures).all().length;
}
