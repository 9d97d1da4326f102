import { and, eq, inArray, ne, type SQL, sql } from 'drizzle-orm';
import { addDays } from '../../shared/days.ts';
import type { Db } from '../plumbing/open-database.ts';
import { allocations, cultureEstimates, cultures, feederSpecies, places, species } from '../schema/tables.ts';

/** What was noted longer ago than this says nothing about what is due. */
const rememberedDays = 90;

/** The last standing entry of a kind: of each culture one look into an index. */
const last = <T>(what: string, condition: string, since: SQL = sql`${sql.placeholder('since')}`) =>
  sql<T | null>`(SELECT ${sql.raw(what)} FROM standing_diary d WHERE d.culture_id = ${cultures.id}
    AND ${sql.raw(condition)} AND d.on_day >= ${since} ORDER BY d.on_day DESC, d.id DESC LIMIT 1)`;

/** Sorts by day and, within a day, by the order of the diary. */
const moment = "d.on_day || ' ' || printf('%015d', coalesce(d.root_id, d.id))";

function careColumns() {
  return {
    lastFedOn: last<string>('d.on_day', "d.kind = 'feed'"),
    renewedOn: last<string>('d.on_day', 'd.substrate IS NOT NULL', sql`'0000'`),
    lastWateredOn: last<string>('d.on_day', "d.kind = 'water'"),
    fruitInAt: last<string>(moment, "d.kind = 'fruit-in'"),
    fruitOutAt: last<string>(moment, "d.kind = 'fruit-out'"),
    /** A day and what was seen, apart by a space. */
    leftSeen: last<string>(
      "d.on_day || ' ' || d.feeders_left",
      "d.kind = 'check' AND d.feeders_left IS NOT NULL",
    ),
    surfaceSeen: last<string>("d.on_day || ' ' || d.surface", "d.kind = 'check' AND d.surface IS NOT NULL"),
  };
}

const speciesColumns = {
  scientificName: species.scientificName,
  commonName: species.commonName,
  everyDays: species.checkEveryDays,
  feedEveryDays: species.feedEveryDays,
  substrateMonths: species.substrateMonths,
  /** A feeder culture gives for so many days, the first of them without anything. */
  feederDays: sql<number | null>`${feederSpecies.leadDays} + ${feederSpecies.productiveDays}`,
  sellable: species.sellable,
  groupSize: sql<number>`${species.groupAdults} + ${species.groupJuveniles} + ${species.groupExtras}`,
};

const estimateColumns = {
  lastCheckOn: cultureEstimates.lastCheckOn,
  lastCountOn: cultureEstimates.lastCountOn,
  health: sql<string>`coalesce(${cultureEstimates.health}, 'well')`,
  lower: cultureEstimates.lower,
  upper: cultureEstimates.upper,
  reserve: cultureEstimates.reserve,
};

const promised = sql<number>`coalesce((SELECT sum(a.animals) FROM ${allocations} a
  WHERE a.culture_id = ${cultures.id} AND a.state = 'reserved'), 0)`;

/** The check of the day that can be taken back, when there is one: the last of them. */
const doneEntry = sql<number | null>`(SELECT max(d.id) FROM standing_diary d
  WHERE d.culture_id = ${cultures.id} AND d.kind = 'check' AND d.on_day = ${sql.placeholder('today')})`;

/** In walking order; what stands in quarantine is handled last, so that nothing travels from it on hands and tools. */
const walkingOrder = [
  sql`${cultures.status} = 'quarantine'`,
  sql`coalesce(${places.shelfOrder}, '~')`,
  cultures.code,
];

/** The day and how far back is looked are filled in when it is run. */
function careOfCultures(db: Db, isOne: boolean) {
  const { kind, name, fullName, parentId, shelfOrder } = places;
  return db
    .select({
      id: cultures.id,
      code: cultures.code,
      status: cultures.status,
      foundedOn: cultures.foundedOn,
      ...speciesColumns,
      place: fullName,
      shelfOrder,
      position: sql<string | null>`CASE WHEN ${kind} = 'position' THEN ${name} END`,
      shelf: sql<string | null>`CASE WHEN ${kind} = 'position'
        THEN (SELECT above.full_name FROM places above WHERE above.id = ${parentId}) ELSE ${fullName} END`,
      shelfId: sql<number | null>`CASE WHEN ${kind} = 'position' THEN ${parentId} ELSE ${places.id} END`,
      ...estimateColumns,
      promised,
      ...careColumns(),
      doneEntry,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(feederSpecies, eq(feederSpecies.speciesId, cultures.speciesId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .leftJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .where(and(ne(cultures.status, 'retired'), isOne ? eq(cultures.id, sql.placeholder('id')) : undefined))
    .orderBy(...walkingOrder)
    .prepare();
}

/** Run with every tap, so it is made ready once for each database. */
const oneReady = new WeakMap<Db, ReturnType<typeof careOfCultures>>();

const fillIn = (today: string) => ({ today, since: addDays(today, -rememberedDays) });

/** Every culture that is kept, in walking order, with what decides whether something is due. */
export const keptCultures = (db: Db, today: string) => careOfCultures(db, false).all(fillIn(today));

/** One culture, or undefined where it is not kept any more. */
export function keptCulture(db: Db, today: string, id: number): KeptCulture | undefined {
  const ready = oneReady.get(db) ?? careOfCultures(db, true);
  oneReady.set(db, ready);
  return ready.get({ ...fillIn(today), id });
}
export type KeptCulture = ReturnType<typeof keptCultures>[number];

/** The numbers of all cultures that are kept, in walking order. */
export const walked = (db: Db): number[] =>
  db
    .select({ id: cultures.id })
    .from(cultures)
    .leftJoin(places, eq(places.id, cultures.placeId))
    .where(ne(cultures.status, 'retired'))
    .orderBy(...walkingOrder)
    .all()
    .map(({ id }) => id);

/** The codes of cultures by their ids. */
export const codesOf = (db: Db, ids: readonly number[]): string[] =>
  db
    .select({ code: cultures.code })
    .from(cultures)
    .where(inArray(cultures.id, [...ids]))
    .all()
    .map(({ code }) => code);
