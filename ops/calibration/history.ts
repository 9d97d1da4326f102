import type { PopulationEvent } from '../../shared/counts/population/form.ts';
import { addDays } from '../../shared/days.ts';
import { type Chance, chanceFrom } from './chance.ts';
import type { Setting } from './settings.ts';

/** A culture simulated from the model, and what was written down of it. */
export interface History {
  readonly events: readonly PopulationEvent[];
  readonly asOf: string;
  readonly truth: {
    readonly now: number;
    readonly ahead: number;
    readonly growth: number;
    readonly capacity: number;
  };
}

export const WEEKS_AHEAD = 4;
export const FOUNDED_ON = '2025-01-06';
const DETECTION = { alpha: 6, beta: 14 };

/**
 * Draws a culture from the priors and lets it live through about so many weeks of irregular events of every
 * kind. What is done to it depends only on what was seen of it, never on the hidden number.
 */
export function simulate(setting: Setting, seed: number, weeks: number): History {
  const chance = chanceFrom(seed);
  const { profile, start } = setting;
  const drawn = ({ median, sdLog }: { median: number; sdLog: number }) =>
    median * Math.exp(sdLog * chance.normal());
  const growth = drawn(profile.growthPerWeek);
  const capacity = drawn(profile.capacity);
  const colony = { number: alive(start.animals * Math.exp(start.sdLog * chance.normal())) };
  const live = (days: number) => {
    const rise = Math.exp(growth * (days / 7));
    const grown = (capacity * colony.number * rise) / (capacity + colony.number * (rise - 1));
    colony.number = alive(grown * Math.exp(profile.processSd * Math.sqrt(days / 7) * chance.normal()));
  };
  const events: PopulationEvent[] = [];
  let date = FOUNDED_ON;
  let guess = start.animals;
  const last = addDays(FOUNDED_ON, 7 * weeks);
  for (;;) {
    // Mostly about a week, sometimes the same day, sometimes a month.
    const days = Math.floor(
      chance.uniform() < 0.1 ? 0 : chance.uniform() < 0.1 ? 30 * chance.uniform() : 3 + 8 * chance.uniform(),
    );
    if (addDays(date, days) > last) break;
    date = addDays(date, days);
    if (days > 0) live(days);
    const event = happen(chance, date, guess, colony);
    events.push(event);
    if (event.kind === 'count') guess = Math.max(1, guessFrom(event, guess));
  }
  const rest = Math.floor(14 * chance.uniform());
  if (rest > 0) live(rest);
  const now = colony.number;
  for (let week = 0; week < WEEKS_AHEAD; week += 1) live(7);
  return { events, asOf: addDays(date, rest), truth: { now, ahead: colony.number, growth, capacity } };
}

function alive(number: number): number {
  return number < 0.5 ? 0 : number;
}

/** One event: mostly looks, now and then a full count, a sample, a harvest, an addition or a die-off. */
function happen(chance: Chance, date: string, guess: number, colony: { number: number }): PopulationEvent {
  const kind = chance.uniform();
  if (kind < 0.14) {
    const animals = Math.ceil(guess * 0.5 * chance.uniform());
    colony.number = alive(Math.max(0, colony.number - animals));
    return { date, kind: 'removed', animals };
  }
  if (kind < 0.18) {
    const animals = Math.ceil(12 * chance.uniform());
    colony.number += animals;
    return { date, kind: 'added', animals };
  }
  if (kind < 0.21) {
    const survival = { median: 0.5, sdLog: 0.5 };
    colony.number = alive(colony.number * survival.median * Math.exp(survival.sdLog * chance.normal()));
    return { date, kind: 'die-off', survival };
  }
  return count(chance, date, colony.number, (kind - 0.21) / 0.79);
}

function count(chance: Chance, date: string, number: number, kind: number): PopulationEvent {
  const level = 0.9;
  const whole = Math.round(number);
  if (kind < 0.15) {
    const relativeSd = 0.1;
    const counted = number === 0 ? 0 : Math.round(number * Math.exp(relativeSd * chance.normal()));
    return { date, kind: 'count', method: 'full', counted, relativeSd, level };
  }
  if (kind < 0.3) {
    const fraction = 0.2;
    const clumping = 4;
    const counted = chance.clumped(fraction * number, clumping);
    return { date, kind: 'count', method: 'sample', counted, fraction, clumping, level };
  }
  const counted = chance.binomial(whole, chance.beta(DETECTION.alpha, DETECTION.beta));
  return { date, kind: 'count', method: 'visible', counted, detection: DETECTION, level };
}

/** What a keeper would make of a count on the spot. */
function guessFrom(event: Extract<PopulationEvent, { kind: 'count' }>, guess: number): number {
  if (event.method === 'full') return event.counted;
  if (event.method === 'visible') return (guess + event.counted / 0.3) / 2;
  if (event.method === 'sample') return (guess + event.counted / event.fraction) / 2;
  return guess;
}
