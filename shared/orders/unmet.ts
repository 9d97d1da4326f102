import type { AllocateQuestion, Wish } from './allocate-form.ts';
import { lineKey, mostGroups } from './demands.ts';

const groupsWord = (groups: number) => `${groups} ${groups === 1 ? 'group' : 'groups'}`;

/**
 * Why a wish did not get all its groups, in words: what the cultures could give it if nobody else asked, and
 * whether others got some of that.
 *
 * @example whyUnmet(wish, 1, cultures) // 'only 1 group of 12 can be spared'
 */
export function whyUnmet(wish: Wish, got: number, cultures: AllocateQuestion['cultures']): string {
  const { species, line, groups, groupSize, separateLines } = wish;
  const fitting = cultures.filter((one) => one.species === species && (line === null || one.line === line));
  if (fitting.length === 0) {
    return line === null ? 'no culture of this species is offered' : 'no culture of this line is offered';
  }
  const giving = fitting.filter((culture) => mostGroups(wish, culture) > 0);
  if (giving.length === 0) {
    return `no ${line === null ? 'culture' : 'culture of this line'} can spare a whole group of ${groupSize}`;
  }
  const lines = new Set(giving.map(lineKey)).size;
  const alone = separateLines ? lines : giving.reduce((sum, culture) => sum + mostGroups(wish, culture), 0);
  const reasons: string[] = [];
  if (alone < groups) reasons.push(separateLines ? tooFewLines(lines) : `only ${shortage(alone, groupSize)}`);
  const toOthers = Math.min(alone, groups) - got;
  if (toOthers > 0) reasons.push(`${groupsWord(toOthers)} that could be spared for it went to other orders`);
  return reasons.join(', and ');
}

function shortage(groups: number, size: number): string {
  return `${groupsWord(groups)} of ${size} can be spared`;
}

function tooFewLines(lines: number): string {
  const each = 'each group is to come from a line of its own';
  return lines === 1
    ? `only one line has a group to spare, and ${each}`
    : `only ${lines} lines have a group to spare, and ${each}`;
}
