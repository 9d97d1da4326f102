import { campsUsed } from './camps.ts';
import { lineKey, type Part } from './demands.ts';
import type { Column, Problem, Row } from './solver.ts';

/** Groups for each pair of a part. */
export type Fill = readonly number[];

/** What has been reached already and must be kept. */
export interface Settled {
  /** Groups filled of each priority. */
  readonly levels: Map<number, number>;
  /** Cultures touched at most. */
  touched: number;
}

/** Animals taken from each culture. */
function takenOf({ demands, cultures, pairs }: Part, fill: Fill): number[] {
  const taken = cultures.map(() => 0);
  pairs.forEach(({ demand, culture }, p) => {
    taken[culture] = taken[culture]! + fill[p]! * demands[demand]!.size;
  });
  return taken;
}

/** Groups filled of a priority. */
export function filledOf({ demands, pairs }: Part, fill: Fill, priority: number): number {
  return pairs.reduce(
    (sum, { demand }, p) => sum + (demands[demand]!.priority === priority ? fill[p]! : 0),
    0,
  );
}

export function touchedOf(part: Part, fill: Fill): number {
  return takenOf(part, fill).filter((animals) => animals > 0).length;
}

/** The smallest share of its spare animals that a culture keeps; 1 where none is touched. */
export function shareLeftOf(part: Part, fill: Fill): number {
  const shares = takenOf(part, fill).map((animals, c) =>
    animals > 0 ? 1 - animals / part.cultures[c]!.spare : 1,
  );
  return Math.min(1, ...shares);
}

/** The most groups of a priority, in columns of groups for each pair and of whether each camp gives. */
export function mostGroupsProblem(part: Part, settled: Settled, priority: number): Problem {
  const columns = part.pairs.map(({ demand, most }): Column => {
    const cost = part.demands[demand]!.priority === priority ? 1 : 0;
    return { cost, lower: 0, upper: most, whole: true };
  });
  const ofCultures = animalsOf(part).map((terms, c) => ({ lower: 0, upper: part.cultures[c]!.spare, terms }));
  return {
    maximise: true,
    columns: [...columns, ...part.camps.map(yesOrNo)],
    rows: [
      ...rowsOfDemands(part),
      ...rowsOfLevels(part, settled),
      ...ofCultures,
      ...rowsOfCamps(part, columns.length),
    ],
  };
}

/** A fill in the columns of `mostGroupsProblem`. */
export function startOfMostGroups(part: Part, fill: Fill): number[] {
  return [...fill, ...campsUsed(part, fill).map(Number)];
}

/** A fill in the columns of `fewCulturesProblem`. */
export function startOfFewCultures(part: Part, fill: Fill): number[] {
  const touched = takenOf(part, fill).map((animals) => Number(animals > 0));
  return [...fill, ...touched, ...campsUsed(part, fill).map(Number)];
}

const yesOrNo = (): Column => ({ cost: 0, lower: 0, upper: 1, whole: true });

/**
 * The fewest cultures, each giving at most so many animals; more columns: whether each culture is touched, and
 * whether each camp gives. With `atMost`, any so few will do.
 */
export function fewCulturesProblem(
  part: Part,
  settled: Settled,
  limits: readonly number[],
  atMost: number | null,
): Problem {
  const { demands, cultures, pairs } = part;
  const most = pairs.map((pair) => {
    return Math.min(pair.most, Math.floor(limits[pair.culture]! / demands[pair.demand]!.size));
  });
  const groups = most.map((upper): Column => ({ cost: 0, lower: 0, upper, whole: true }));
  const cost = atMost === null ? 1 : 0;
  const touched = cultures.map((): Column => ({ ...yesOrNo(), cost }));
  const touch = (c: number) => pairs.length + c;
  const ofCultures = animalsOf(part).map((terms, c): Row => {
    const all = terms.reduce((sum, [p, size]) => sum + size * most[p]!, 0);
    return { lower: -Infinity, upper: 0, terms: [...terms, [touch(c), -Math.min(limits[c]!, all)]] };
  });
  // Said for each pair too, which leaves far less to be tried.
  const ofPairs = pairs.map(({ culture }, p): Row => {
    return {
      lower: -Infinity,
      upper: 0,
      terms: [
        [p, 1],
        [touch(culture), -most[p]!],
      ],
    };
  });
  const ofCamps = rowsOfCamps(part, pairs.length + cultures.length);
  const rows = [
    ...rowsOfDemands(part),
    ...rowsOfLevels(part, settled),
    ...ofCultures,
    ...ofPairs,
    ...ofCamps,
  ];
  if (atMost !== null) {
    rows.push({ lower: 0, upper: atMost, terms: cultures.map((_, c) => [touch(c), 1] as const) });
  }
  return { maximise: false, columns: [...groups, ...touched, ...part.camps.map(yesOrNo)], rows };
}

/** Trust in a solver's arithmetic is good; whole groups out of animals that are there must be certain. */
export function isAllowed(part: Part, settled: Settled, fill: Fill): boolean {
  const keeps = takenOf(part, fill).every((animals, c) => animals <= part.cultures[c]!.spare);
  const levels = [...settled.levels].every(([priority, least]) => filledOf(part, fill, priority) >= least);
  const asked = rowsOfDemands(part).every(({ upper, terms }) => {
    return terms.reduce((sum, [column]) => sum + fill[column]!, 0) <= upper;
  });
  const used = campsUsed(part, fill);
  const mixed = part.rivals.some((set) => set.filter((camp) => used[camp]).length > 1);
  return keeps && levels && asked && !mixed && touchedOf(part, fill) <= settled.touched;
}

/** No more groups than are asked for, and one of each line where lines are to differ. */
function rowsOfDemands({ demands, cultures, pairs }: Part): Row[] {
  const rows = demands.map(({ groups }) => ({ lower: 0, upper: groups, terms: [] as [number, number][] }));
  const lines = new Map<string, [number, number][]>();
  pairs.forEach(({ demand, culture }, p) => {
    rows[demand]!.terms.push([p, 1]);
    if (!demands[demand]!.separate) return;
    const key = JSON.stringify([demand, lineKey(cultures[culture]!)]);
    lines.set(key, [...(lines.get(key) ?? []), [p, 1]]);
  });
  const ofLines = [...lines.values()].map((terms) => ({ lower: 0, upper: 1, terms }));
  return [...rows, ...ofLines.filter(({ terms }) => terms.length > 1)];
}

/** A camp gives where it may, and of rivals one alone; `first` is the first camp's column. */
function rowsOfCamps({ camps, rivals }: Part, first: number): Row[] {
  const mayGive = camps.map(({ pairs, most }, c): Row => {
    return { lower: -Infinity, upper: 0, terms: [...pairs.map((p) => [p, 1] as const), [first + c, -most]] };
  });
  const oneAlone = rivals.map((set) => ({
    lower: 0,
    upper: 1,
    terms: set.map((camp) => [first + camp, 1] as const),
  }));
  return [...mayGive, ...oneAlone];
}

function rowsOfLevels({ demands, pairs }: Part, { levels }: Settled): Row[] {
  return [...levels].map(([level, least]) => ({
    lower: least,
    upper: Infinity,
    terms: pairs.flatMap(({ demand }, p) => (demands[demand]!.priority === level ? [[p, 1] as const] : [])),
  }));
}

/** The animals that leave each culture. */
function animalsOf({ demands, cultures, pairs }: Part): [number, number][][] {
  const terms = cultures.map((): [number, number][] => []);
  pairs.forEach(({ demand, culture }, p) => {
    terms[culture]!.push([p, demands[demand]!.size]);
  });
  return terms;
}
