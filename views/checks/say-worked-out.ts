import type { DueSince, DueSum } from '../../shared/checks/due.ts';
import { formatAgo, formatCount, formatDay, formatNumber } from '../layout/format.ts';
import type { OpenWork, RoundRowData } from './part-round-row.tsx';
import { dueWords } from './say-round.ts';

const sinceWords: Record<DueSince, string> = {
  founded: 'founded on',
  checked: 'last on',
  fed: 'fed on',
  'plenty-left': 'plenty left on',
  'none-left': 'nothing left on',
  'fruit-in': 'put in on',
  'found-dry': 'found dry on',
  wet: 'wet on',
  fresh: 'renewed on',
  counted: 'last on',
  foretold: 'foretold from',
  looked: 'looked for on',
};

type Reader = { today: string; locale?: string | undefined };

/** A day of this year without its year. */
const dayIn = (iso: string, { today, locale }: Reader) =>
  formatDay(iso, locale, iso.slice(0, 4) === today.slice(0, 4) ? 'month-day' : 'short');

function sayDays({ since, days, halfOf, months }: DueSum, locale?: string): string {
  const words = formatCount(days, 'day', 'days', locale);
  if (since === 'wet') return `${words} until dry is likelier than not`;
  if (halfOf !== undefined) return `${words} (half of ${formatNumber(halfOf, locale)}, rounded up)`;
  return months === undefined ? words : `${words} (${formatCount(months, 'month', 'months', locale)})`;
}

/** "fed on 18 Nov + 7 days = 25 Nov, today" */
function saySum({ sum, dueOn, overdueDays }: OpenWork, reader: Reader): string {
  if (sum === null) return 'asked for on this round';
  const from = `${sinceWords[sum.since]} ${dayIn(sum.from, reader)}`;
  const ago = formatAgo(overdueDays);
  if (sum.days === 0) return overdueDays === 0 ? `${from}, so today` : `${from}, so due since then, ${ago}`;
  return `${from} + ${sayDays(sum, reader.locale)} = ${dayIn(dueOn, reader)}, ${ago}`;
}

/** Why the number is too doubtful: what could go by either end of the interval. */
function sayHanging({ hanging }: OpenWork, { locale }: Reader): string {
  if (!hanging) return '';
  const { lower, upper, reserve, promised, groupSize, groups } = hanging;
  const number = (value: number) => formatNumber(value, locale);
  const must = number(Math.ceil(reserve));
  return `; ${number(lower)} to ${number(upper)} animals − ${must} that must stay − ${number(promised)} promised, ÷ ${number(groupSize)} animals a group = none to ${formatCount(groups, 'group', 'groups', locale)}`;
}

const capital = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

/** "The food: fed on 18 Nov + 7 days = 25 Nov, today." */
export const sayDue = (work: OpenWork, reader: Reader): string =>
  `${capital(dueWords[work.what] ?? work.what)}: ${saySum(work, reader)}${sayHanging(work, reader)}.`;

/** As many as stand on a page of the round; more lines are no help to anybody who checks a sum. */
const mostListed = 80;

type Row = Pick<RoundRowData, 'code'> & { open: readonly OpenWork[] };

/** Why each culture is due, a line for each. */
export function sayRound(rows: readonly Row[], reader: Reader): string[] {
  const due = rows.filter(({ open }) => open.length > 0);
  const lines = due
    .slice(0, mostListed)
    .map(({ code, open }) => `${code}. ${open.map((work) => sayDue(work, reader)).join(' ')}`);
  const more = due.length - mostListed;
  return more > 0 ? [...lines, `And ${formatNumber(more, reader.locale)} more in the same way.`] : lines;
}
