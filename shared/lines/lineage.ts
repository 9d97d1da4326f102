import type { Lineage } from './form.ts';
import { type Kinship, kinship } from './kinship.ts';

export interface CultureLineage {
  readonly code: string;
  /** f with itself: the probability that two different genes drawn from it are identical by descent. */
  readonly inbreeding: number;
  /** 1 - inbreeding, the share of the founders' heterozygosity that is left. */
  readonly heterozygosityKept: number;
  readonly generations: number;
  readonly meanKinship: number;
  /** Where its genes come from: the cultures founded from the wild, by code; the shares add up to 1. */
  readonly founderShares: Readonly<Record<string, number>>;
}

export interface LineageAnswer {
  readonly codes: readonly string[];
  /** Row and column in the order of `codes`. */
  readonly kinship: readonly (readonly number[])[];
  readonly cultures: readonly CultureLineage[];
}

/**
 * How inbred each culture is, how near each is kin to each, and from which founders its genes come. The model
 * is told at `kinship`.
 *
 * meanKinship is the mean of the culture's kinship with every culture asked about, itself included (Ballou and
 * Lacy 1995), each counted once whatever its size. Generations are the mean over founders by their shares,
 * and count time only.
 *
 * Units: probabilities, generations. Errors: as `kinship`.
 *
 * @example lineage(lineageInput.parse({ generationDays: 90, femaleShare: 0.5, neRatio: 0.5, asOf: '2026-04-01',
 *   cultures: [{ code: 'A', foundedOn: '2026-01-01', wild: 10 },
 *     { code: 'B', foundedOn: '2026-04-01', parents: [{ code: 'A', animals: 20 }] }] })).kinship
 * // [[0.19, 0.19], [0.19, 0.2305]]: B is A on that day, then one founding step with Ne = 10
 */
export function lineage(question: Lineage): LineageAnswer {
  const found = kinship(question);
  const { codes } = found;
  return {
    codes,
    kinship: codes.map((_, i) => Array.from(rowOf(found, i))),
    cultures: codes.map((_, i) => cultureLineage(found, i)),
  };
}

/** What `lineage` says of one culture, without the table of all. */
export function cultureLineage(found: Kinship, i: number): CultureLineage {
  const inbreeding = found.at(i, i);
  const shares = found.founders.flatMap((place, k) => {
    const share = found.shareOf(i, k);
    return share > 0 ? [[found.codes[place]!, share] as const] : [];
  });
  return {
    code: found.codes[i]!,
    inbreeding,
    heterozygosityKept: 1 - inbreeding,
    generations: found.generations[i]!,
    meanKinship: meanKinship(found, i),
    founderShares: Object.fromEntries(shares),
  };
}

/** The mean kinship of a culture with some others (itself counts if it is among them), or with all. */
export function meanKinship(found: Kinship, i: number, among?: readonly number[]): number {
  const row = rowOf(found, i);
  const values = among?.map((j) => row[j]!) ?? row;
  let sum = 0;
  for (const value of values) sum += value;
  return values.length === 0 ? 0 : sum / values.length;
}

function rowOf({ values, codes }: Kinship, i: number): Float64Array {
  return values.subarray(i * codes.length, (i + 1) * codes.length);
}
