import { formatTemp, type UnitSystem } from '../../shared/settings/units.ts';
import { formatDay, formatNumber } from '../layout/format.ts';
import { sayGroups, sayMinutes } from '../surplus/say-count-next.ts';

export const dueWords: Record<string, string> = {
  check: 'the look',
  water: 'the water',
  feed: 'the food',
  fruit: 'the fruit',
  young: 'the look for young',
  adults: 'the look for adults',
  substrate: 'the fresh substrate',
  retire: 'retiring it',
  count: 'the count',
};

type Stage = {
  stage: 'hatch' | 'adult';
  startOn: string;
  from: string;
  to: string;
  /** How warm it was since then on average; null where the room was not measured. */
  meanC: number | null;
};

/** "look for young: eggs seen on 3 Nov, 21 °C since, hatch between 20 Nov and 27 Nov". */
export function stageWords({ stage, startOn, from, to, meanC }: Stage, units: UnitSystem, locale?: string) {
  const day = (iso: string) => formatDay(iso, locale, 'month-day');
  const warmth = meanC === null ? 'room not measured' : `${formatTemp(meanC, units, locale)} since`;
  const since = stage === 'hatch' ? `eggs seen on ${day(startOn)}` : `started on ${day(startOn)}`;
  const what = stage === 'hatch' ? 'hatch' : 'first adults';
  const look = stage === 'hatch' ? 'look for young' : 'adults expected';
  return `${look}: ${since}, ${warmth}, ${what} between ${day(from)} and ${day(to)}`;
}

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

const found: Record<string, string> = {
  young: 'young seen',
  'no-young': 'looked for young, none yet',
  adults: 'adults seen',
  'no-adults': 'looked for adults, none yet',
};

/** "A-12: looked for young, none yet." */
export const lookedWords = (code: string, lookedFor: string) => `${code}: ${found[lookedFor] ?? 'looked'}.`;

type Start = { toStart: number; started: number; commonName: string; scientificName: string };

/** "Start 3 fruit fly cultures", "3 fruit fly cultures" once they are started. */
export function startWords({ toStart, started, commonName, scientificName }: Start): string {
  const name = commonName || scientificName;
  const many = toStart === 0 ? started : toStart;
  const cultures = `${many} ${name} ${many === 1 ? 'culture' : 'cultures'}`;
  return toStart === 0 ? cultures : `Start ${cultures}`;
}
