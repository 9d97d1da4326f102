import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import { formatCount, formatNumber } from '../layout/format.ts';
import type { Step } from '../layout/worked-out.tsx';
import type { Candidate } from './candidates.tsx';
import type { CultureLeft } from './part-leaves.tsx';
import type { ProposedLine } from './part-proposal.tsx';

/** Which culture could give the most, and whether it would do alone. */
function sayMost({ line, from, others, notShown }: ProposedLine, locale?: string): string | null {
  const able = [...from, ...others];
  const most = able.reduce<Candidate | null>(
    (best, one) => (best === null || one.spareGroups > best.spareGroups ? one : best),
    null,
  );
  if (!most) return null;
  const missing = line.groups - line.has;
  const wanted = formatCount(missing, 'group', 'groups', locale);
  const enough = line.separateLines
    ? missing > 1 && 'each group comes from another line, so from another culture'
    : most.spareGroups >= missing
      ? `one culture could give ${wanted}`
      : `no culture alone could give ${wanted}`;
  const count = able.length + notShown;
  const spare = formatNumber(most.spareGroups, locale);
  const first =
    count === 1
      ? `Only ${most.code} can spare a group; it can spare ${spare}`
      : `Of ${formatCount(count, 'culture', 'cultures', locale)} that can spare a group, ${most.code} can spare the most, ${spare}`;
  return enough ? `${first}: ${enough}.` : `${first}.`;
}

/** From where the groups of a line are taken, and why from there, step by step. */
function sayLine(proposed: ProposedLine, locale?: string): (Step | null)[] {
  const { line } = proposed;
  const missing = line.groups - line.has;
  const each = animalsPerGroup(line);
  const number = (value: number) => formatNumber(value, locale);
  return [
    [
      line.scientificName,
      `: ${formatCount(missing, 'group', 'groups', locale)} × ${number(each)} animals = ${number(missing * each)} wished for.`,
    ],
    sayMost(proposed, locale),
  ];
}

function sayLeft({ code, promisable, promised, spare, taken, left }: CultureLeft, locale?: string): string {
  const number = (value: number) => formatNumber(value, locale);
  return `${code}: ${number(promisable)} can go − ${number(promised)} promised = ${number(spare)} to spare; − ${number(taken)} taken here = ${left < 0 ? `${number(-left)} too few` : number(left)}.`;
}

/** More of a day's lines and cultures than this are no help to anybody who checks a sum. */
const mostListed = 20;

/** Which cultures give and what they keep, step by step. */
export function sayProposal(
  lines: readonly ProposedLine[],
  leaves: readonly CultureLeft[],
  locale?: string,
): Step[] {
  const said = [
    ...lines.slice(0, mostListed).flatMap((line) => sayLine(line, locale)),
    ...leaves.slice(0, mostListed).map((row) => sayLeft(row, locale)),
  ];
  return said.filter((line) => line !== null);
}
