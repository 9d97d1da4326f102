import type { Day } from '../days.ts';
import type { Air } from './air.ts';

/** What a day's look said of the surface; null where only water was noted. */
export interface Look {
  date: Day;
  surface: 'wet' | 'moist' | 'dry' | null;
  wateredMl: number;
}

/**
 * The time between two waterings. Amounts of water are shares of a full watering; exposures are the vapour pressure
 * deficit summed over days, kPa days, from the day the cycle began.
 */
export interface Cycle {
  from: Day;
  /** False where nobody knows how wet it was when the cycle began: then it teaches nothing of the rate. */
  isKnown: boolean;
  /** What was put in, and what of the cycle before it was still there: all of it unknown, nothing, or what was left. */
  added: number;
  carried: 'dry' | 'full' | 'left over';
  /** The exposure the cycle before this one had when this one began. */
  exposureBefore: number;
  /** The last look that found it not dry, and the first that found it dry. */
  notDryAt: number;
  dryAt: number | null;
  lastLookOn: Day;
  dryOn: Day | null;
  looks: number;
}

const driest = { dry: 2, moist: 1, wet: 0 } as const;

/** One look a day: the driest surface that was seen, and all the water. */
function daysOf(looks: readonly Look[]): Look[] {
  const days: Look[] = [];
  for (const look of looks) {
    const last = days.at(-1);
    if (last?.date !== look.date) {
      days.push({ ...look });
      continue;
    }
    last.wateredMl += look.wateredMl;
    const { surface } = look;
    if (surface && (last.surface === null || driest[surface] > driest[last.surface])) last.surface = surface;
  }
  return days;
}

/** What counts as a full watering: the middle of those given to a dry surface, or else of all. */
function fullWateringMl(days: readonly Look[]): number | null {
  const given = days.filter((look) => look.wateredMl > 0);
  const toDry = given.filter((look) => look.surface === 'dry');
  const amounts = (toDry.length > 0 ? toDry : given).map((look) => look.wateredMl).sort((a, b) => a - b);
  const middle = amounts.length / 2;
  if (amounts.length === 0) return null;
  return ((amounts[Math.ceil(middle) - 1] ?? 0) + (amounts[Math.floor(middle)] ?? 0)) / 2;
}

function begin(from: Day, start: Partial<Cycle>): Cycle {
  return {
    from,
    isKnown: true,
    added: 1,
    carried: 'full',
    exposureBefore: 0,
    notDryAt: 0,
    dryAt: null,
    lastLookOn: from,
    dryOn: null,
    looks: 0,
    ...start,
  };
}

/** Somebody must have given water that was not noted. */
const isWetterAgain = (before: Look['surface'], now: Look['surface']) =>
  (now === 'wet' && before !== 'wet' && before !== null) || (now === 'moist' && before === 'dry');

function take(cycle: Cycle, day: Look, air: Air) {
  if (day.surface === null || cycle.dryAt !== null) return;
  const exposure = air.sum(cycle.from, day.date);
  cycle.lastLookOn = day.date;
  if (day.surface === 'dry') {
    cycle.dryAt = exposure;
    cycle.dryOn = day.date;
  } else cycle.notDryAt = exposure;
  // A look on the day of the watering itself says nothing of how fast it dries.
  if (exposure > 0) cycle.looks += 1;
}

/**
 * The cycles a culture went through, in order; the last one is still going on. The looks must be in order of days.
 *
 * @example cyclesOf([{ date: '2026-11-01', surface: 'dry', wateredMl: 50 }], air).length // 1
 */
export function cyclesOf(looks: readonly Look[], air: Air): Cycle[] {
  const days = daysOf(looks);
  const full = fullWateringMl(days) ?? 1;
  const cycles: Cycle[] = [];
  let seen: Look['surface'] = null;
  for (const day of days) {
    let cycle = cycles.at(-1);
    if (cycle && isWetterAgain(seen, day.surface)) {
      cycle = undefined;
      cycles.push(unnoted(day));
    } else if (!cycle && day.surface !== null) cycles.push(unnoted(day));
    else if (cycle) take(cycle, day, air);
    if (day.surface !== null) seen = day.surface;
    if (day.wateredMl > 0) {
      cycles.push(afterWater(cycles.at(-1), day, full, air));
      seen = null;
    }
  }
  return cycles;
}

/** A cycle that began with water nobody wrote down, or before the first look. */
function unnoted(day: Look): Cycle {
  if (day.surface === 'wet') return begin(day.date, {});
  if (day.surface === 'moist') return begin(day.date, { isKnown: false, added: 0.5, carried: 'dry' });
  return begin(day.date, { isKnown: false, dryAt: 0, dryOn: day.date });
}

function afterWater(before: Cycle | undefined, day: Look, full: number, air: Air): Cycle {
  if (before === undefined) return begin(day.date, {});
  const added = Math.min(1, day.wateredMl / full);
  if (before.dryAt !== null) return begin(day.date, { added, carried: 'dry' });
  const isFull = !before.isKnown;
  const exposureBefore = air.sum(before.from, day.date);
  return begin(day.date, isFull ? {} : { added, carried: 'left over', exposureBefore });
}
