import { toEpochDay } from '../days.ts';
import { effectiveSize, keptOver } from './effective-size.ts';
import type { Lineage } from './form.ts';
import { placesOf } from './founding-order.ts';
import { type From, lineageEvents } from './lineage-events.ts';

/** Fewer animals than this are none (as in `population`). */
export const EXTINCT_BELOW = 0.5;

/** Who is kin to whom on a day. Cultures go by their places in `codes`, the order of the input. */
export interface Kinship {
  readonly codes: readonly string[];
  /** Undefined for a code that is not there. */
  placeOf(code: string): number | undefined;
  /** f: the probability that two different genes, one drawn from each (or both from one), are identical by descent. */
  at(i: number, j: number): number;
  /** The same, row after row, codes.length squared. */
  readonly values: Readonly<Float64Array>;
  /** The last known number of animals in each. */
  readonly animals: Readonly<Float64Array>;
  /** Generations since the wild, the mean over founders by their shares. */
  readonly generations: Readonly<Float64Array>;
  /** The places of the cultures founded from the wild. */
  readonly founders: readonly number[];
  /** The share of a culture's genes that comes from the founder at that place in `founders`. */
  shareOf(i: number, founder: number): number;
}

/**
 * Inbreeding and kinship of cultures over splits and mixings, by the recursion of gene identity (Malécot
 * 1948) for one neutral locus without mutation.
 *
 * Founding from the wild: f = 0 with everything. Founding from parents p, with shares w of the founding
 * animals: f_cc = sum over p, q of w_p w_q f_pq and f_cx = sum of w_p f_px, as they stand on that day. Then one
 * founding step, 1 - f -> (1 - f)(1 - 1/(2 Ne)), with the Ne of the founding animals. Between dates 1 - f_cc is
 * multiplied by (1 - 1/(2 Ne))^(days / generationDays), Ne from the last known size: the founding animals, then
 * `sizes` from their day on. An addition makes the culture a mixture of itself, by its last known size, and the
 * source; it does not change the last known size, except in a culture that had died out (give the new size on
 * the next day). A size given for the day of an addition is the one before it. Kinship between two cultures
 * stays until one of them receives animals.
 *
 * Generations count time only, days / generationDays; a founding step takes none.
 *
 * Order within a day: sizes, foundings, additions as given. Time: events x cultures. Errors: CalculationError
 * where the lineage was not checked by `lineageInput`.
 *
 * @example kinship(lineageInput.parse({ cultures: [{ code: 'A', foundedOn: '2026-01-01', wild: 10 }],
 *   generationDays: 90, femaleShare: 0.5, neRatio: 0.5, asOf: '2026-04-01' })).at(0, 0)
 * // Ne = 5: one founding step and one generation, 1 - 0.9 x 0.9 = 0.19
 */
export function kinship(lineage: Lineage): Kinship {
  const ledger = openLedger(lineage);
  for (const event of lineageEvents(lineage)) {
    if (event.kind === 'founding') found(ledger, event);
    else add(ledger, event);
  }
  const lastDay = toEpochDay(lineage.asOf);
  for (const culture of ledger.founded) advance(ledger, culture, lastDay);
  const { n, f, animals, generations, founders, shares } = ledger;
  const places = placesOf(lineage.cultures);
  return {
    codes: lineage.cultures.map(({ code }) => code),
    placeOf: (code) => places.get(code),
    at: (i, j) => f[i * n + j]!,
    values: f,
    animals,
    generations,
    founders,
    shareOf: (i, founder) => shares[i * founders.length + founder]!,
  };
}

interface Ledger {
  readonly n: number;
  /** Row after row; a culture's own entry holds for its day in `days`. */
  readonly f: Float64Array;
  readonly days: Float64Array;
  readonly animals: Float64Array;
  readonly generations: Float64Array;
  readonly founded: number[];
  readonly founders: number[];
  readonly shares: Float64Array;
  readonly sizes: { day: number; animals: number }[][];
  /** The next of each culture's sizes that has not been used. */
  readonly nextSize: Int32Array;
  readonly row: Float64Array;
  readonly lineage: Lineage;
}

function openLedger(lineage: Lineage): Ledger {
  const { cultures } = lineage;
  // Tens of thousands of sizes fall on some hundred days.
  const known = new Map<string, number>();
  const dayOf = (date: string): number => {
    const day = known.get(date) ?? toEpochDay(date);
    known.set(date, day);
    return day;
  };
  const n = cultures.length;
  const founders = cultures.flatMap(({ wild }, i) => (wild === undefined ? [] : [i]));
  return {
    n,
    f: new Float64Array(n * n),
    days: new Float64Array(n),
    animals: new Float64Array(n),
    generations: new Float64Array(n),
    founded: [],
    founders,
    shares: new Float64Array(n * founders.length),
    sizes: cultures.map(({ sizes }) =>
      sizes.map(({ date, animals }) => ({ day: dayOf(date), animals })).sort((a, b) => a.day - b.day),
    ),
    nextSize: new Int32Array(n),
    row: new Float64Array(n),
    lineage,
  };
}

function found(
  ledger: Ledger,
  { culture, day, animals, parents }: { culture: number; day: number; animals: number; parents: From[] },
): void {
  const { f, n, founders, shares } = ledger;
  ledger.days[culture] = day;
  ledger.animals[culture] = animals;
  if (parents.length > 0) mix(ledger, culture, day, parents);
  else shares[culture * founders.length + founders.indexOf(culture)] = 1;
  ledger.founded.push(culture);
  const own = culture * n + culture;
  f[own] = 1 - (1 - f[own]!) * keptOver(effectiveSize(animals, ledger.lineage), 1);
}

function add(ledger: Ledger, event: { culture: number; day: number; from: From }): void {
  const { culture, day, from } = event;
  advance(ledger, culture, day);
  const animals = ledger.animals[culture]!;
  mix(ledger, culture, day, [{ culture, animals }, from]);
  if (animals < EXTINCT_BELOW) ledger.animals[culture] = from.animals;
}

/** Brings a culture's inbreeding, size and generations up to a day. */
function advance(ledger: Ledger, culture: number, day: number): void {
  const { f, n, days, animals, generations, lineage } = ledger;
  const sizes = ledger.sizes[culture]!;
  const own = culture * n + culture;
  let kept = 1;
  const wait = (until: number) => {
    const passed = (until - days[culture]!) / lineage.generationDays;
    kept *= keptOver(effectiveSize(animals[culture]!, lineage), passed);
    generations[culture]! += passed;
    days[culture] = until;
  };
  let next = ledger.nextSize[culture]!;
  for (; next < sizes.length && sizes[next]!.day <= day; next += 1) {
    wait(sizes[next]!.day);
    animals[culture] = sizes[next]!.animals;
  }
  ledger.nextSize[culture] = next;
  wait(day);
  f[own] = 1 - (1 - f[own]!) * kept;
}

/** Makes a culture the mixture of others (it may be one of them), by animals. */
function mix(ledger: Ledger, culture: number, day: number, parts: readonly From[]): void {
  const { n, f, row, founded, generations, shares } = ledger;
  const founders = ledger.founders.length;
  for (const part of parts) advance(ledger, part.culture, day);
  blend(parts, f, n, row);
  // Two genes of the mixture: the mean, over where the second comes from, of the first's kinship with it.
  let identical = 0;
  const total = parts.reduce((sum, part) => sum + part.animals, 0);
  for (const part of parts) identical += (part.animals / total) * row[part.culture]!;
  f.set(row, culture * n);
  for (const other of founded) f[other * n + culture] = row[other]!;
  f[culture * n + culture] = Math.min(1, identical);
  generations.set(blend(parts, generations, 1, new Float64Array(1)), culture);
  shares.set(blend(parts, shares, founders, new Float64Array(founders)), culture * founders);
}

/** The mean of the parts' rows in a table, by animals, written into `row`. */
function blend(parts: readonly From[], table: Float64Array, width: number, row: Float64Array): Float64Array {
  const total = parts.reduce((sum, part) => sum + part.animals, 0);
  row.fill(0);
  for (const { culture, animals } of parts) {
    const weight = animals / total;
    const from = culture * width;
    for (let i = 0; i < width; i += 1) row[i]! += weight * table[from + i]!;
  }
  return row;
}
