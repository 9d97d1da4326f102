import { formatVolume, type UnitSystem } from '../../shared/settings/units.ts';
import { formatNumber, formatPercent } from '../layout/format.ts';

/** A diary entry as the page needs it: plain columns, names already looked up. */
export type EntryData = {
  id: number;
  rootId?: number | null;
  onDay: string;
  kind: string;
  animals: number | null;
  adults: number | null;
  juveniles: number | null;
  otherCode: string | null;
  orderNumber: number | null;
  placeName: string | null;
  seedingMl: number | null;
  surface: string | null;
  springtails: string | null;
  springtailsWhere: string | null;
  feedersLeft: string | null;
  youngSeen: boolean | null;
  eggsSeen: boolean | null;
  mouldSeen: boolean | null;
  mitesSeen: boolean | null;
  deaths: number | null;
  countInput: string | null;
  wording: string | null;
  waterMl: number | null;
  food: string | null;
  survivalMedian: number | null;
  note: string;
  by: string | null;
  via: string;
  lookedFor?: string | null;
  substrate?: string | null;
  withdrawn: boolean;
  replacesId: number | null;
  replacedBy: number | null;
};

export const kindWords: Record<string, string> = {
  check: 'Check',
  count: 'Count',
  water: 'Water',
  feed: 'Fed',
  'fruit-in': 'Fruit in',
  'fruit-out': 'Fruit out',
  harvest: 'Harvest',
  addition: 'Added',
  split: 'Split',
  'die-off': 'Die-off',
  mites: 'Mites',
  mould: 'Mould',
  move: 'Moved',
  quarantine: 'Quarantine',
  release: 'Out of quarantine',
  retirement: 'Retired',
  note: 'Note',
};

type StoredCount = {
  method: string;
  counted?: number;
  fraction?: number;
  catches?: number[];
  marked?: number;
  caught?: number;
  recaptured?: number;
};

/** What a count saw, in words: "23 seen", "77, 50, then 37 caught". */
function countWords(json: string, wording: string | null): string {
  const c = JSON.parse(json) as StoredCount;
  if (c.method === 'full') return `${formatNumber(c.counted ?? 0)} counted, all of them`;
  if (c.method === 'visible') return `${wording ?? formatNumber(c.counted ?? 0)} seen`;
  if (c.method === 'sample')
    return `${formatNumber(c.counted ?? 0)} in ${formatPercent(c.fraction ?? 0, undefined, 1)} of the substrate`;
  if (c.method === 'removal') return `${(c.catches ?? []).join(', then ')} caught`;
  return `${c.recaptured} of ${c.caught} caught carried a mark, ${c.marked} had been marked`;
}

const lookedForWords: Record<string, string> = {
  'no-young': 'no young yet',
  adults: 'adults seen',
  'no-adults': 'no adults yet',
};

/** What was done with the substrate, or nothing. */
const substrateWords = ({ substrate }: EntryData): string | null =>
  substrate === 'mixed'
    ? 'substrate renewed, some of the old mixed in'
    : substrate === 'new'
      ? 'substrate all new'
      : null;

function checkWords(e: EntryData): string {
  const words = [
    e.surface && `surface ${e.surface}`,
    e.springtails && `springtails ${e.springtails}${e.springtailsWhere ? `, ${e.springtailsWhere}` : ''}`,
    e.feedersLeft && `feeders left: ${e.feedersLeft}`,
    e.youngSeen && 'young seen',
    e.lookedFor && e.lookedFor !== 'young' && (lookedForWords[e.lookedFor] ?? e.lookedFor),
    e.eggsSeen && 'females with eggs seen',
    e.mouldSeen && 'mould',
    e.mitesSeen && 'mites',
    e.deaths && `${formatNumber(e.deaths)} dead`,
    substrateWords(e),
  ].filter(Boolean);
  return words.length > 0 ? words.join('; ') : 'all well';
}

/** Millilitres as they were written; spoons and cups to a quarter. */
const mlWords = (ml: number, units: UnitSystem) =>
  units === 'us' ? formatVolume(ml / 1000, 'us') : `${formatNumber(ml, undefined, 1)} ml`;

function movedWords(e: EntryData, units: UnitSystem): string {
  const count = formatNumber(e.animals ?? 0);
  const makeUp =
    e.adults !== null || e.juveniles !== null
      ? ` (${e.adults ?? 0} adults, ${e.juveniles ?? 0} juveniles)`
      : '';
  if (e.kind === 'addition')
    return `${count} animals put in${makeUp}${e.otherCode ? ` from ${e.otherCode}` : ''}`;
  if (e.kind === 'split') {
    const moved = `${count} animals moved to ${e.otherCode ?? 'a new culture'}${makeUp}`;
    const seeding = e.seedingMl ? `${mlWords(e.seedingMl, units)} of old substrate along` : null;
    return [moved, seeding, substrateWords(e)].filter(Boolean).join('; ');
  }
  return `${count} animals taken out${makeUp}${e.orderNumber ? ` for order ${e.orderNumber}` : ''}`;
}

/** What an entry says, without its kind, day and note. */
export function entryWords(e: EntryData, units: UnitSystem = 'metric'): string {
  switch (e.kind) {
    case 'check':
      return checkWords(e);
    case 'count':
      return e.countInput ? countWords(e.countInput, e.wording) : '';
    case 'water':
      return e.waterMl ? mlWords(e.waterMl, units) : '';
    case 'feed':
      return e.otherCode ? `${e.food ?? 'feeders'} from ${e.otherCode}` : (e.food ?? '');
    case 'harvest':
    case 'addition':
    case 'split':
      return movedWords(e, units);
    case 'die-off':
      return `about ${formatPercent(1 - (e.survivalMedian ?? 1))} lost`;
    case 'move':
      return e.placeName ? `to ${e.placeName}` : '';
    default:
      return '';
  }
}
