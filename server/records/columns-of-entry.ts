import type { Entry } from '../../shared/records/entries.ts';
import type { NewEntry } from '../cultures/queries-diary.ts';

/** What an entry points at, as the records number it. */
export type Ids = {
  cultureId: (code: string) => number;
  placeId: (path: readonly string[]) => number;
  /** What is believed of the share that shows, where the entry does not tell it. */
  detection: { alpha: number; beta: number };
};

export type EntryColumns = Omit<NewEntry, 'cultureId' | 'onDay' | 'via' | 'madeBy' | 'madeAt' | 'importId'>;

/** A diary entry as the records keep it; the other way round is `entryOf`. */
export function columnsOf(entry: Entry, ids: Ids): EntryColumns {
  const { kind, note } = entry;
  switch (entry.kind) {
    case 'check': {
      const { kind: _kind, note: _note, ...seen } = entry;
      return { kind: 'check', note, ...seen };
    }
    case 'count': {
      const { count, wording } = entry;
      const whole = count.method === 'visible' ? { detection: ids.detection, ...count } : count;
      return { kind: 'count', note, countInput: JSON.stringify(whole), wording };
    }
    case 'water':
      return { kind: 'water', note, waterMl: entry.waterMl };
    case 'feed':
      return { kind: 'feed', note, food: entry.food, otherCultureId: idOf(entry.fromCode, ids) };
    case 'harvest':
    case 'addition':
    case 'split':
      return { kind: entry.kind, note, ...moved(entry, ids) };
    case 'die-off': {
      const { survivalMedian, survivalSdLog } = entry;
      return { kind: 'die-off', note, survivalMedian, survivalSdLog };
    }
    case 'move':
      return { kind: 'move', note, placeId: ids.placeId(entry.place) };
    default:
      return { kind, note };
  }
}

const idOf = (code: string | null, ids: Ids) => (code === null ? null : ids.cultureId(code));

function moved(entry: Extract<Entry, { kind: 'harvest' | 'addition' | 'split' }>, ids: Ids) {
  const { animals, adults, juveniles } = entry;
  const other =
    entry.kind === 'split' ? entry.childCode : entry.kind === 'harvest' ? entry.toCode : entry.fromCode;
  const otherCultureId = idOf(other, ids);
  const seedingMl = entry.kind === 'split' ? entry.seedingMl : null;
  return { animals, adults, juveniles, otherCultureId, seedingMl };
}
