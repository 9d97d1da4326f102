import type { AllocateQuestion, Source, Wish } from './allocate-form.ts';
import { joins, lineKey, mostGroups } from './demands.ts';
import { type Line, mostTogether, type NeverMixed } from './never-mixed.ts';

const groupsWord = (groups: number) => `${groups} ${groups === 1 ? 'group' : 'groups'}`;

/**
 * Why a wish did not get all its groups, in words: what the cultures could give it if nobody else asked, and
 * whether others got some of that.
 *
 * @example whyUnmet(wish, 1, cultures, neverMixed) // 'only 1 group of 12 can be spared'
 */
export function whyUnmet(
  wish: Wish,
  got: number,
  cultures: AllocateQuestion['cultures'],
  neverMixed: NeverMixed,
): string {
  const { species, line, groups, groupSize } = wish;
  const fitting = cultures.filter((one) => one.species === species && (line === null || one.line === line));
  if (fitting.length === 0) {
    return line === null ? 'no culture of this species is offered' : 'no culture of this line is offered';
  }
  const giving = fitting.filter((culture) => mostGroups(wish, culture, neverMixed) > 0);
  if (giving.length === 0) {
    if (fitting.some((one) => one.spare >= groupSize && !joins(wish, one, neverMixed)))
      return noneJoins(wish);
    return `no ${line === null ? 'culture' : 'culture of this line'} can spare a whole group of ${groupSize}`;
  }
  const byLine = groupsByLine(wish, giving, neverMixed);
  const alone = mostTogether(byLine, neverMixed);
  const unmixed = [...byLine.values()].reduce((sum, one) => sum + one, 0);
  const reasons: string[] = [];
  if (alone < groups) reasons.push(shortage(wish, alone, alone < Math.min(unmixed, groups)));
  const toOthers = Math.min(alone, groups) - got;
  if (toOthers > 0) reasons.push(`${groupsWord(toOthers)} that could be spared for it went to other orders`);
  return reasons.join(', and ');
}

function noneJoins({ separateLines }: Wish): string {
  return separateLines
    ? 'what can be spared is of lines that it has a group of already, or that are never mixed with them'
    : 'what can be spared is of lines that are never mixed with what it has already';
}

/** What each line could give a wish by itself; cultures without a line stand together under null. */
function groupsByLine(wish: Wish, giving: readonly Source[], neverMixed: NeverMixed): Map<Line, number> {
  const byLine = new Map<Line, number>();
  const seen = new Set<string>();
  for (const culture of giving) {
    const key = lineKey(culture);
    const more = wish.separateLines && seen.has(key) ? 0 : mostGroups(wish, culture, neverMixed);
    seen.add(key);
    byLine.set(culture.line, (byLine.get(culture.line) ?? 0) + more);
  }
  return byLine;
}

/** `mixed`: there would be more if the lines could be mixed. */
function shortage({ separateLines, groupSize }: Wish, groups: number, mixed: boolean): string {
  if (!separateLines) {
    const from = mixed ? ' from lines that may come together' : '';
    return `only ${groupsWord(groups)} of ${groupSize} can be spared${from}`;
  }
  const each = 'each group is to come from a line of its own';
  if (!mixed && groups === 1) return `only one line has a group to spare, and ${each}`;
  if (groups === 1) return `no two lines that may come together have a group to spare, and ${each}`;
  const lines = mixed ? 'lines that may come together' : 'lines';
  return `only ${groups} ${lines} have a group to spare, and ${each}`;
}
