import { healthWords } from '../cultures/say.ts';
import { formatAgo, formatCount, formatNumber } from '../layout/format.ts';
import { formatEstimate } from '../layout/round-estimate.ts';

export type Countworthy = {
  fault: string | null;
  health: string;
  canGain: boolean;
  median: number | null;
  lower: number | null;
  upper: number | null;
  reserve: number | null;
  limitedBy: string | null;
  countedDaysAgo: number | null;
  gain: { now: number; expected: number; gain: number; perMinute: number } | null;
};

const limits: Record<string, string> = {
  'count too old': 'likely enough for a group, only the doubt holds it back',
  promised: 'the rest is promised as far as the lower end says',
  adults: 'too few adults as far as the lower end says',
};

/** Expected groups, always with one digit so that they line up: "2.0". */
export function formatExpected(groups: number, locale?: string): string {
  const rounded = Math.round(groups * 10) / 10;
  const digits = formatNumber(rounded, locale, 1);
  return Number.isInteger(rounded) ? `${digits}${formatNumber(0.1, locale, 1).charAt(1)}0` : digits;
}

/** "about 90 minutes", "about 6 hours". */
export function sayMinutes(minutes: number, locale?: string): string {
  if (minutes < 120) return `about ${formatCount(Math.round(minutes), 'minute', 'minutes', locale)}`;
  return `about ${formatNumber(Math.round(minutes / 30) / 2, locale, 1)} hours`;
}

/** "about 1 group", "about 2.5 groups": an expectation in a sentence, to the half group. */
export function sayGroups(groups: number, locale?: string): string {
  const half = Math.round(groups * 2) / 2;
  if (half === 0) return 'less than half a group';
  return `about ${formatNumber(half, locale, 1)} ${half === 1 ? 'group' : 'groups'}`;
}

function heart(row: Countworthy, locale?: string): string {
  if (row.gain && row.gain.gain < 0.1)
    return row.gain.now >= 1 ? 'known well enough' : 'too few animals, whatever a count says';
  if (row.limitedBy === 'reserve')
    return row.reserve === null
      ? 'near what must stay'
      : `the lower end is under the ${formatNumber(row.reserve, locale)} that must stay`;
  return limits[row.limitedBy ?? ''] ?? 'the lower end decides, there may well be more';
}

/** Why a count of this culture is worth its minutes, or why not, in a sentence without an end. */
export function whyCount(row: Countworthy, locale?: string): string {
  const counted = row.countedDaysAgo === null ? 'never counted' : `counted ${formatAgo(row.countedDaysAgo)}`;
  if (row.fault !== null) return row.fault;
  if (!row.canGain) return `${healthWords[row.health]}: a count frees nothing while that stands`;
  if (row.median === null) return 'not worked out yet';
  const number = formatEstimate(row.median, row.lower ?? 0, row.upper ?? 0, locale);
  if (row.health === 'die-off') return `held since the die-off until it is counted; ${number}`;
  return `${number}: ${heart(row, locale)}; ${counted}`;
}
