import type { CountInput } from '../../shared/counts/form.ts';
import type { CheckEntry, Entry, ImportedCount } from '../../shared/records/entries.ts';
import type { diary } from '../schema/tables.ts';

type Row = typeof diary.$inferSelect;

/** Names of what an entry points at. */
export type Names = {
  codeOf: (cultureId: number) => string;
  /** From the outside in. */
  pathOf: (placeId: number) => string[];
};

/** A diary entry as a file tells it; the other way round is `columnsOf`. */
export function entryOf(row: Row, { codeOf, pathOf }: Names): Entry {
  const { note } = row;
  const other = row.otherCultureId === null ? null : codeOf(row.otherCultureId);
  const moved = { animals: row.animals ?? 0, adults: row.adults, juveniles: row.juveniles };
  switch (row.kind) {
    case 'check':
      return { kind: 'check', ...seen(row), note };
    case 'count':
      return { kind: 'count', count: countOf(row.countInput ?? '{}'), wording: row.wording, note };
    case 'water':
      return { kind: 'water', waterMl: row.waterMl ?? 0, note };
    case 'feed':
      return { kind: 'feed', food: row.food, fromCode: other, note };
    case 'harvest':
      return { kind: 'harvest', ...moved, toCode: other, note };
    case 'addition':
      return { kind: 'addition', ...moved, fromCode: other, note };
    case 'split':
      return { kind: 'split', ...moved, childCode: other ?? '', seedingMl: row.seedingMl, note };
    case 'die-off': {
      const { survivalMedian, survivalSdLog } = row;
      return {
        kind: 'die-off',
        survivalMedian: survivalMedian ?? 1,
        survivalSdLog: survivalSdLog ?? 0,
        note,
      };
    }
    case 'move':
      return { kind: 'move', place: row.placeId === null ? [] : pathOf(row.placeId), note };
    default:
      return { kind: row.kind, note };
  }
}

function seen(row: Row): Omit<CheckEntry, 'kind' | 'note'> {
  const { surface, springtails, springtailsWhere, feedersLeft, deaths } = row;
  const { youngSeen, eggsSeen, mouldSeen, mitesSeen } = row;
  return {
    surface,
    springtails,
    springtailsWhere,
    feedersLeft,
    youngSeen,
    eggsSeen,
    mouldSeen,
    mitesSeen,
    deaths,
  };
}

/** The probability inside an interval is a matter of showing a count, not of what was counted. */
function countOf(json: string): ImportedCount {
  const { level: _level, ...count } = JSON.parse(json) as CountInput;
  return count;
}
