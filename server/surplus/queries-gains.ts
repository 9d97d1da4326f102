import { createHash } from 'node:crypto';
import { and, eq, ne, sql } from 'drizzle-orm';
import { type Habits, plannedCountOf } from '../../shared/counts/habits.ts';
import { surplusSettings } from '../../shared/species/profile.ts';
import { type Gain, type GainInput, workOutGain } from '../../shared/surplus/work-out-gain.ts';
import { gainInput } from '../counts/queries-gain-input.ts';
import { isOpen } from '../orders/queries-open.ts';
import type { Db } from '../plumbing/open-database.ts';
import { allocations, cultureEstimates, cultures, lines, places, species } from '../schema/tables.ts';

/** Trouble that no count ends: what is seen of mites and in quarantine is not sold, however many there are. */
const heldAnyway = new Set(['mites', 'quarantine']);

function promisedByCulture(db: Db) {
  return db
    .select({
      cultureId: allocations.cultureId,
      animals: sql<number>`sum(${allocations.animals})`.as('promised_animals'),
    })
    .from(allocations)
    .where(isOpen)
    .groupBy(allocations.cultureId)
    .as('promised');
}

function soldCultures(db: Db, only?: number) {
  const promised = promisedByCulture(db);
  return db
    .select({
      culture: { id: cultures.id, code: cultures.code, morph: cultures.morph, status: cultures.status },
      line: lines.name,
      place: places.fullName,
      shelfOrder: places.shelfOrder,
      species,
      estimate: cultureEstimates,
      promised: sql<number>`coalesce(${promised.animals}, 0)`,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .leftJoin(lines, eq(lines.id, cultures.lineId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .leftJoin(promised, eq(promised.cultureId, cultures.id))
    .where(
      and(
        eq(species.sellable, true),
        ne(cultures.status, 'retired'),
        only === undefined ? undefined : eq(cultures.id, only),
      ),
    )
    .orderBy(cultures.code)
    .all();
}
type SoldCulture = ReturnType<typeof soldCultures>[number];

/**
 * A hash of all that the gain of a count is worked out from. The numbers of the estimate, to their last digit, stand
 * for the state they were read from: every entry, belief and enclosure that changes it changes them.
 */
function basisOf({ estimate, species: s, promised }: SoldCulture, planned: unknown): string {
  const { median, mean, lower, upper, growthMedian, growthLower, growthUpper } = estimate;
  const { capacityMedian, capacityLower, capacityUpper, extinct, health, asOf } = estimate;
  const state = [median, mean, lower, upper, growthMedian, growthLower, growthUpper, extinct];
  const room = [capacityMedian, capacityLower, capacityUpper];
  const all = [asOf, planned, surplusSettings(s), promised, health === 'die-off', state, room];
  return createHash('sha256').update(JSON.stringify(all)).digest('hex').slice(0, 24);
}

/**
 * What came out, for as long as the service runs: it is another one every day, so nothing is gained by storing it, and
 * whoever reads a page changes nothing in the database.
 */
const keptGains = new WeakMap<Db, Map<number, Gain & { basis: string }>>();

/** What is kept of a culture, whether it still holds or not. */
export const keptGain = (db: Db, cultureId: number) => keptGains.get(db)?.get(cultureId);

export type Countable = SoldCulture & {
  planned: GainInput['planned'];
  minutes: number;
  /** Nothing of it is sold before it is counted. */
  held: boolean;
  /** Its estimate says something; one that contradicts itself or is held anyway is not worth a count. */
  canGain: boolean;
  basis: string;
  /** What a count would free; null where it must be worked out (anew). */
  known: Gain | null;
};

function countable(
  row: SoldCulture,
  habits: Habits,
  today: string,
  gain: ReturnType<typeof keptGain>,
): Countable {
  const { detectionAlpha: alpha, detectionBeta: beta, animalGroup } = row.species;
  const { planned, minutes } = plannedCountOf(habits, animalGroup, { alpha, beta });
  const { estimate } = row;
  const basis = basisOf(row, planned);
  const isCurrent = estimate.asOf === today && gain?.basis === basis;
  return {
    ...row,
    planned,
    minutes,
    held: estimate.health === 'die-off',
    canGain: estimate.fault === null && !heldAnyway.has(estimate.health),
    basis,
    known: gain && isCurrent ? gain : null,
  };
}

/** Every culture that is sold from, with what a count of it would free as far as that is worked out. */
export const countables = (db: Db, habits: Habits, today: string): Countable[] =>
  soldCultures(db).map((row) => countable(row, habits, today, keptGain(db, row.culture.id)));

export type ToWorkOut = { cultureId: number; basis: string; input: GainInput };

/**
 * What the gain of one culture is worked out from, with its hash, read together; null where there is nothing to work
 * out: it is known, it cannot gain, or its estimate is still of another day.
 */
export function toWorkOut(db: Db, cultureId: number, habits: Habits, today: string): ToWorkOut | null {
  return db.transaction((tx) => {
    const [row] = soldCultures(tx, cultureId);
    if (!row || row.estimate.asOf !== today) return null;
    const { planned, held, canGain, basis, known } = countable(row, habits, today, keptGain(db, cultureId));
    if (!canGain || known) return null;
    return { cultureId, basis, input: { ...gainInput(tx, cultureId, today), planned, held } };
  });
}

/** Keeps what came out. The hash says what it stands on, so it is never taken for something newer. */
export function keepGain(db: Db, { cultureId, basis }: ToWorkOut, gain: Gain) {
  const kept = keptGains.get(db) ?? new Map<number, Gain & { basis: string }>();
  keptGains.set(db, kept.set(cultureId, { ...gain, basis }));
}

/** What a count of one culture would free now, worked out at once where it is not known; null where nothing can. */
export function gainNow(db: Db, cultureId: number, habits: Habits, today: string): number | null {
  const work = toWorkOut(db, cultureId, habits, today);
  if (work) keepGain(db, work, workOutGain(work.input));
  const [row] = soldCultures(db, cultureId);
  const known = row ? countable(row, habits, today, keptGain(db, cultureId)) : null;
  if (!known?.canGain || !known.known || known.known.fault !== null) return null;
  return known.known.expectedGroups - known.known.groupsNow;
}
