import { createHash } from 'node:crypto';
import { and, eq, ne, sql } from 'drizzle-orm';
import { type Habits, plannedCountOf } from '../../shared/counts/habits.ts';
import { surplusSettings } from '../../shared/species/profile.ts';
import type { Gain, GainInput } from '../../shared/surplus/work-out-gain.ts';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { gainInput } from '../counts/queries-gain-input.ts';
import { isOpen } from '../orders/queries-open.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  allocations,
  countGains,
  cultureEstimates,
  cultures,
  lines,
  places,
  species,
} from '../schema/tables.ts';

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
      gain: countGains,
      promised: sql<number>`coalesce(${promised.animals}, 0)`,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
    .leftJoin(countGains, eq(countGains.cultureId, cultures.id))
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

export type Countable = SoldCulture & {
  planned: GainInput['planned'];
  minutes: number;
  /** Nothing of it is sold before it is counted. */
  held: boolean;
  /** Its estimate says something; one that contradicts itself or is held anyway is not worth a count. */
  canGain: boolean;
  basis: string;
  /** What a count would free; null where it must be worked out (anew). */
  known: typeof countGains.$inferSelect | null;
};

function countable(row: SoldCulture, habits: Habits, today: string): Countable {
  const { detectionAlpha: alpha, detectionBeta: beta, animalGroup } = row.species;
  const { planned, minutes } = plannedCountOf(habits, animalGroup, { alpha, beta });
  const { estimate, gain } = row;
  const basis = basisOf(row, planned);
  const isCurrent = estimate.asOf === today && gain?.basis === basis;
  return {
    ...row,
    planned,
    minutes,
    held: estimate.health === 'die-off',
    canGain: estimate.fault === null && !heldAnyway.has(estimate.health),
    basis,
    known: isCurrent ? gain : null,
  };
}

/** Every culture that is sold from, with what a count of it would free as far as that is worked out. */
export const countables = (db: Db, habits: Habits, today: string): Countable[] =>
  soldCultures(db).map((row) => countable(row, habits, today));

export type ToWorkOut = { cultureId: number; basis: string; input: GainInput };

/**
 * What the gain of one culture is worked out from, with its hash, read together; null where there is nothing to work
 * out (any more). Yesterday's estimate is brought up to today on the way.
 */
export function toWorkOut(
  db: Db,
  cultureId: number,
  habits: Habits,
  { today, now }: { today: string; now: number },
): ToWorkOut | null {
  return db.transaction(
    (tx) => {
      const [before] = soldCultures(tx, cultureId);
      if (before && before.estimate.asOf !== today) refreshEstimate(tx, cultureId, today, now);
      const [row] = soldCultures(tx, cultureId);
      if (!row) return null;
      const { planned, held, canGain, basis, known } = countable(row, habits, today);
      if (!canGain || known) return null;
      return { cultureId, basis, input: { ...gainInput(tx, cultureId, today), planned, held } };
    },
    { behavior: 'immediate' },
  );
}

/** Keeps what came out. The hash says what it stands on, so it is never taken for something newer. */
export function keepGain(db: Db, { cultureId, basis }: ToWorkOut, gain: Gain, now: number) {
  const row = { ...gain, basis, workedOutAt: now };
  db.insert(countGains)
    .values({ cultureId, ...row })
    .onConflictDoUpdate({ target: countGains.cultureId, set: row })
    .run();
}
