import { addDays, type Day, daysBetween } from '../days.ts';
import { type CountFacts, countDue, type HangingGroups } from './count-due.ts';
import { type Due, type DueSum, dueAfter, nextCheck } from './due.ts';
import { substrateDue } from './substrate-due.ts';

export const dueKinds = [
  'check',
  'water',
  'feed',
  'fruit',
  'young',
  'adults',
  'substrate',
  'retire',
  'count',
] as const;
export type DueKind = (typeof dueKinds)[number];
export type CareDue = Due & {
  what: DueKind;
  /** Of a count: the groups that hang on it. */
  hanging?: HangingGroups;
};

/** Fresh food is taken out after so many days, before it moulds. Common practice, no source. */
export const fruitDays = 3;

/** What the diary tells of the care a culture had, as far as it decides what is due. */
export type CareFacts = {
  foundedOn: Day;
  lastCheckOn: Day | null;
  checkEveryDays: number;
  lastFedOn: Day | null;
  feedEveryDays: number;
  /** How much food was left when somebody last noted it. */
  left: { onDay: Day; amount: 'none' | 'few' | 'plenty' } | null;
  /** Fresh food that was put in and not taken out yet. */
  fruitSince: Day | null;
  surface: { onDay: Day; is: 'wet' | 'moist' | 'dry' } | null;
  lastWateredOn: Day | null;
  /** When it dries, where that was worked out from its own checks and the air of its room. */
  dries: { sum: DueSum; reason: string } | null;
  /** Young or first adults that were foretold: from when on to look for them, and why. */
  stages: readonly { what: 'young' | 'adults'; sum: DueSum; reason: string }[];
  /** The species' rhythm, null where substrate is never renewed; and when it was last. */
  substrateMonths: number | null;
  renewedOn: Day | null;
  /** A feeder culture: the day it has given what it gives. */
  spentOn: Day | null;
  /** How many animals there may be, where the species is sold and nothing else holds it back. */
  number: Omit<CountFacts, 'lastCountOn' | 'foundedOn'> | null;
  lastCountOn: Day | null;
};

/**
 * Answers: all that a culture wants, each with its day and its reason, due or still to come; the look itself first.
 * - check: the species' interval.
 * - water: a surface that was found dry and not watered since; else the day it is expected to be dry.
 * - feed: the species' rhythm since the last meal; half of it later where plenty was left, at once where nothing was.
 *   A culture whose meals nobody writes down is never due for one.
 * - fruit: to be taken out three days after it was put in.
 * - young, adults: as foretold by degree-days, see `lookDue`; none of a feeder culture that is spent.
 * - substrate: older than the species' rhythm; see `substrateDue`.
 * - retire: a feeder culture that has given what it gives, before it breeds mites; nothing is renewed in it either.
 * - count: an interval too wide for the decision what may leave; see `countDue`.
 *
 * @example careDue({ ...facts, lastFedOn: '2026-11-17', feedEveryDays: 7 }, '2026-11-25')
 * // ... { what: 'feed', dueOn: '2026-11-24', overdueDays: 1, reason: 'food: fed 8 days ago, wants it every 7 days',
 * //   sum: { since: 'fed', from: '2026-11-17', days: 7 } }
 */
export function careDue(facts: CareFacts, today: Day): CareDue[] {
  const { foundedOn, lastCheckOn, checkEveryDays, number, lastCountOn } = facts;
  const check = nextCheck(lastCheckOn, foundedOn, checkEveryDays, today);
  const count = number && countDue({ ...number, lastCountOn, foundedOn }, today);
  const all: [DueKind, Due | null][] = [
    ['check', check],
    ['water', waterDue(facts, today)],
    ['feed', feedDue(facts, today)],
    ['fruit', fruitDue(facts, today)],
    ['substrate', facts.spentOn === null ? substrateOf(facts, today) : null],
    ['retire', retireDue(facts, today)],
    ['count', count],
  ];
  for (const { what, sum, reason } of facts.stages)
    if (facts.spentOn === null || facts.spentOn > today) all.push([what, dueAfter(sum, today, reason)]);
  return all.flatMap(([what, due]) => (due ? [{ what, ...due }] : []));
}

function ago(onDay: Day, today: Day): string {
  const days = daysBetween(onDay, today);
  if (days <= 0) return 'today';
  return days === 1 ? 'yesterday' : `${days} days ago`;
}

const every = (days: number) => (days === 1 ? 'every day' : `every ${days} days`);

function waterDue({ surface, lastWateredOn, dries }: CareFacts, today: Day): Due | null {
  const wateredSince = surface !== null && lastWateredOn !== null && lastWateredOn >= surface.onDay;
  if (surface?.is === 'dry' && !wateredSince)
    return dueAfter(
      { since: 'found-dry', from: surface.onDay, days: 0 },
      today,
      `water: the surface was dry ${ago(surface.onDay, today)}`,
    );
  return dries && dueAfter(dries.sum, today, dries.reason);
}

function feedDue({ lastFedOn, feedEveryDays, left }: CareFacts, today: Day): Due | null {
  if (lastFedOn === null) return null;
  const sum = { since: 'fed', from: lastFedOn, days: feedEveryDays } as const;
  const usual = addDays(lastFedOn, feedEveryDays);
  const fed = `fed ${ago(lastFedOn, today)}`;
  if (left && left.onDay > lastFedOn) {
    const seen = ago(left.onDay, today);
    if (left.amount === 'none') {
      const atOnce = { since: 'none-left', from: left.onDay, days: 0 } as const;
      return dueAfter(left.onDay < usual ? atOnce : sum, today, `food: nothing was left ${seen}`);
    }
    const days = Math.ceil(feedEveryDays / 2);
    const later = { since: 'plenty-left', from: left.onDay, days, halfOf: feedEveryDays } as const;
    if (left.amount === 'plenty' && addDays(left.onDay, days) > usual)
      return dueAfter(later, today, `food: ${fed}, plenty was left ${seen}`);
  }
  return dueAfter(sum, today, `food: ${fed}, wants it ${every(feedEveryDays)}`);
}

function fruitDue({ fruitSince }: CareFacts, today: Day): Due | null {
  if (fruitSince === null) return null;
  return dueAfter(
    { since: 'fruit-in', from: fruitSince, days: fruitDays },
    today,
    `fruit: put in ${ago(fruitSince, today)}, take it out before it moulds`,
  );
}

const substrateOf = ({ foundedOn, renewedOn, substrateMonths: everyMonths }: CareFacts, today: Day) =>
  substrateDue({ foundedOn, renewedOn, everyMonths }, today);

function retireDue({ foundedOn, spentOn }: CareFacts, today: Day): Due | null {
  if (spentOn === null) return null;
  const age = daysBetween(foundedOn, today);
  return dueAfter(
    { since: 'founded', from: foundedOn, days: daysBetween(foundedOn, spentOn) },
    today,
    `feeder culture: ${age} days old and spent, retire it before it breeds mites`,
  );
}
