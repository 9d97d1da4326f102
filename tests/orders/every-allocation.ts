import type { AllocateQuestion } from '../../shared/orders/allocate-form.ts';

/** Groups for each wish from each culture. */
export type Given = number[][];

/** How good a way to fill the orders is, by the rules in their order. */
export interface Merit {
  /** Groups filled, the highest priority first. */
  levels: number[];
  touched: number;
  /** The smallest share kept in a culture that gives, by species. */
  shares: Record<string, number>;
}

/** Whether a way is allowed at all, said plainly. */
export function isPossible({ wanted, cultures, apart }: AllocateQuestion, given: Given): boolean {
  const fits = wanted.every((wish, w) => {
    const lines = wish.has.map(({ line, code }) => line ?? `${code}, alone`);
    const together = wish.has.map(({ line }) => line);
    const had = lines.length;
    for (const [c, culture] of cultures.entries()) {
      const groups = given[w]![c]!;
      if (groups === 0) continue;
      if (groups < 0 || !Number.isInteger(groups) || culture.species !== wish.species) return false;
      if (wish.line !== null && culture.line !== wish.line) return false;
      together.push(culture.line);
      for (let g = 0; g < groups; g += 1) lines.push(culture.line ?? `${culture.code}, alone`);
    }
    const isMore = lines.length - had > wish.groups;
    const isMixed = apart.some((pair) => pair.every((line) => together.includes(line)));
    return !isMore && !isMixed && (!wish.separateLines || new Set(lines).size === lines.length);
  });
  return fits && cultures.every(({ spare }, c) => animalsFrom(wanted, given, c) <= spare);
}

export function meritOf({ wanted, cultures }: AllocateQuestion, given: Given): Merit {
  const priorities = [...new Set(wanted.map(({ priority }) => priority))].sort((a, b) => b - a);
  const levels = priorities.map((priority) => {
    const filled = wanted.flatMap((wish, w) => (wish.priority === priority ? given[w]! : []));
    return filled.reduce((sum, groups) => sum + groups, 0);
  });
  const shares: Record<string, number> = Object.fromEntries(wanted.map(({ species }) => [species, 1]));
  let touched = 0;
  for (const [c, { species, spare }] of cultures.entries()) {
    const animals = animalsFrom(wanted, given, c);
    if (animals === 0) continue;
    touched += 1;
    shares[species] = Math.min(shares[species]!, (spare - animals) / spare);
  }
  return { levels, touched, shares };
}

/** The best merit of all ways there are. */
export function bestMerit(question: AllocateQuestion): Merit {
  let best: Merit | undefined;
  for (const given of everyWay(question, 0)) {
    const merit = meritOf(question, given);
    const order = best ? compare(merit, best) : 1;
    if (order > 0) best = merit;
    if (order !== 0) continue;
    for (const [species, share] of Object.entries(merit.shares)) {
      best!.shares[species] = Math.max(best!.shares[species]!, share);
    }
  }
  return best!;
}

/** By groups and cultures; above 0 where a is better. */
function compare(a: Merit, b: Merit): number {
  for (const [i, groups] of a.levels.entries()) if (groups !== b.levels[i]) return groups - b.levels[i]!;
  return b.touched - a.touched;
}

function animalsFrom(wanted: AllocateQuestion['wanted'], given: Given, c: number): number {
  return wanted.reduce((sum, { groupSize }, w) => sum + groupSize * given[w]![c]!, 0);
}

function* everyWay(question: AllocateQuestion, w: number): Generator<Given> {
  const { wanted, cultures } = question;
  if (w === wanted.length) {
    yield [];
    return;
  }
  for (const row of everyRow(wanted[w]!.groups, cultures.length)) {
    const alone = wanted.map((_, i) => (i === w ? row : cultures.map(() => 0)));
    if (!isPossible(question, alone)) continue;
    for (const rest of everyWay(question, w + 1)) {
      const given = [row, ...rest];
      const sofar = [...Array.from({ length: w }, () => cultures.map(() => 0)), ...given];
      if (isPossible(question, sofar)) yield given;
    }
  }
}

/** At most so many groups over so many cultures, every way. */
function* everyRow(groups: number, cultures: number): Generator<number[]> {
  if (cultures === 0) {
    yield [];
    return;
  }
  for (let first = 0; first <= groups; first += 1) {
    for (const rest of everyRow(groups - first, cultures - 1)) yield [first, ...rest];
  }
}
