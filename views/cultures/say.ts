import { daysBetween } from '../../shared/days.ts';
import { formatAgo, formatCount, formatDay, formatInTen } from '../layout/format.ts';
import { formatEstimate } from '../layout/round-estimate.ts';

/** What is stored of a culture's estimate, as far as words need it. */
export type Known = {
  fault: string | null;
  median: number | null;
  lower: number | null;
  upper: number | null;
  fullnessMedian: number | null;
  spareGroups: number;
  readyOn: string | null;
  limitedBy: string | null;
  health: string;
};

export const healthWords: Record<string, string> = {
  well: 'well',
  mites: 'mites seen',
  mould: 'mould seen',
  'die-off': 'a die-off, not counted since',
  quarantine: 'in quarantine',
};

const limitWords: Record<string, string> = {
  'count too old': 'not sure enough, a count may free some',
  reserve: 'the reserve must stay',
  adults: 'too few adults',
  promised: 'the rest is promised',
  health: 'held for its health',
};

/** Why a culture cannot spare (more) groups, in words. */
export const limitedByWords = (limitedBy: string | null): string =>
  limitedBy ? (limitWords[limitedBy] ?? limitedBy) : '';

/** "can spare 2 groups", "can spare nothing now: the reserve must stay". */
function spareWords(known: Known): string {
  if (known.spareGroups > 0) return `can spare ${formatCount(known.spareGroups, 'group')}`;
  const why = limitedByWords(known.limitedBy);
  return why ? `can spare nothing now: ${why}` : 'can spare nothing now';
}

/** The same where a column says what is spared: "2 groups", "none: the reserve must stay". */
export function spareOf(known: Known): string {
  if (known.spareGroups > 0) return formatCount(known.spareGroups, 'group');
  const why = limitedByWords(known.limitedBy);
  return why ? `none: ${why}` : 'none';
}

/** The culture in one sentence: "about 140 (105 to 190), 7 in 10 full, can spare 2 groups; counted 12 days ago". */
export function sayCulture(known: Known, countedDaysAgo: number | null, locale?: string): string {
  if (known.fault !== null || known.median === null) return known.fault ?? 'not worked out yet';
  const number = formatEstimate(known.median, known.lower ?? 0, known.upper ?? 0, locale);
  const full = known.fullnessMedian === null ? '' : `, ${formatInTen(known.fullnessMedian)} full`;
  const counted = countedDaysAgo === null ? 'never counted' : `counted ${formatAgo(countedDaysAgo)}`;
  return `${number}${full}, ${spareWords(known)}; ${counted}`;
}

type KnownNumber = Pick<Known, 'fault' | 'median' | 'lower' | 'upper'> & { lastCountOn: string | null };

/** Only the number and its age: "about 140 (105 to 190), counted 12 days ago". */
export function sayNumber(known: KnownNumber | undefined, today: string, locale?: string): string {
  if (!known) return 'nothing is worked out yet';
  if (known.fault !== null || known.median === null) return 'nothing, because the diary contradicts itself';
  const number = formatEstimate(known.median, known.lower ?? 0, known.upper ?? 0, locale);
  const counted = known.lastCountOn
    ? `counted ${formatAgo(daysBetween(known.lastCountOn, today))}`
    : 'never counted';
  return `${number}, ${counted}`;
}

/** Why an entry cannot be of that day, for beside the field; null when it can. */
export function dayFault(
  culture: { code: string; foundedOn: string },
  onDay: string,
  today: string,
  locale?: string,
): string | null {
  if (onDay > today) return 'That day is still to come.';
  if (onDay >= culture.foundedOn) return null;
  return `${culture.code} was founded only on ${formatDay(culture.foundedOn, locale)}.`;
}
