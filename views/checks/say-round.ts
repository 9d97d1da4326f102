import { formatNumber } from '../layout/format.ts';
import { sayGroups, sayMinutes } from '../surplus/say-count-next.ts';

export const dueWords: Record<string, string> = {
  check: 'the look',
  water: 'the water',
  feed: 'the food',
  fruit: 'the fruit',
  count: 'the count',
};

type Asked = { gain: number; minutes: number; by: string | null };

/** "count: likely frees about 2 groups, about 30 minutes, asked for by Robin". */
export function askedCountWords({ gain, minutes, by }: Asked, locale?: string): string {
  const who = by ? `, asked for by ${by}` : '';
  return `count: likely frees ${sayGroups(gain, locale)}, ${sayMinutes(minutes, locale)}${who}`;
}

/** "all well", "all well for 12 cultures": what a tap has written down. */
export const wellWords = (codes: readonly string[], did: boolean, locale?: string): string => {
  const what = did ? 'all well, and what was due is done' : 'all well';
  return codes.length === 1
    ? `${codes[0]}: ${what}.`
    : `${formatNumber(codes.length, locale)} cultures: ${what}.`;
};
