import { MOST_ANIMALS } from '../counts/form.ts';
import { readCheckNote } from './check-notes.ts';
import type { CodeMatch } from './codes.ts';
import { readDieOffNote, survivalOf } from './die-off-share.ts';
import type { Entry, ImportedCount } from './entries.ts';
import type { Findings } from './findings.ts';
import type { Meaning } from './meanings.ts';
import { readPlace } from './places.ts';
import { type DecimalMark, readNumber } from './rough-numbers.ts';
import { readSplitChild } from './split-notes.ts';
import { readWaterMl } from './water-amounts.ts';

/** What a row of a diary tells, in its own words. */
export interface TellingRow {
  meaning: Exclude<Meaning, 'leave out'>;
  number: string;
  note: string;
  /** The code of the culture the row belongs to, where it is known. */
  code: string | null;
}

export interface EntryContext {
  mark: DecimalMark;
  numberColumn: string | null;
  noteColumn: string | null;
  largestColony: number;
  lostPercent: number | null;
  waterMl: number | null;
  findCulture: (text: string) => CodeMatch;
}

const LONGEST_FOOD = 80;
const ROUGH_RELATIVE_SD = 0.2;
const AMOUNT_ALONE = /^[~≈]?\d[\d.,]{0,8}\s?(?:ml|cl|dl|l|tsp|tbsp|fl oz|oz)\.?$/i;

/**
 * The diary entry that a row tells, or null with the faults that keep it from being one. Every fault of the row
 * is found, not only the first.
 *
 * @example readEntry({ meaning: 'visible count', number: '~40', note: '', code: 'A-1' }, context, findings)
 * // { kind: 'count', count: { method: 'visible', counted: 40 }, wording: '~40', note: '' }
 */
export function readEntry(row: TellingRow, context: EntryContext, findings: Findings): Entry | null {
  switch (row.meaning) {
    case 'check':
      return readCheck(row, findings);
    case 'deaths': {
      const deaths = readAnimals(row, context, findings);
      return deaths
        ? { kind: 'check', ...readCheckNote('').findings, deaths: deaths.value, note: row.note }
        : null;
    }
    case 'visible count':
    case 'full count':
      return readSimpleCount(row, context, findings);
    case 'sample count':
    case 'removal count':
    case 'mark-recapture count':
      return readWorkedCount(row, context, findings);
    case 'water':
      return readWater(row, context, findings);
    case 'feed': {
      const food = withNumber(row, findings);
      return food.length > LONGEST_FOOD || food === ''
        ? { kind: 'feed', food: null, fromCode: null, note: food }
        : { kind: 'feed', food, fromCode: null, note: '' };
    }
    case 'harvest':
    case 'addition':
    case 'split':
      return readMoved(row, context, findings);
    case 'die-off':
      return readDieOff(row, context, findings);
    case 'move': {
      const place = readPlace(row.note.replace(/^(?:moved )?(?:to|into|->|→)\s+/i, ''));
      if (place.length === 0)
        return findings.fault('text-missing', 'The new place is not told.', context.noteColumn);
      if (place.some((part) => part.length > 80)) {
        return findings.fault('text-too-long', 'A place has more than 80 characters.', context.noteColumn);
      }
      return {
        kind: 'move',
        place,
        note: row.number === '' ? '' : withNumber({ ...row, note: '' }, findings),
      };
    }
    case 'note': {
      const note = withNumber(row, findings);
      if (note === '') return findings.fault('text-missing', 'The note is empty.', context.noteColumn);
      return { kind: 'note', note };
    }
    case 'fruit in':
    case 'fruit out':
      return { kind: row.meaning === 'fruit in' ? 'fruit-in' : 'fruit-out', note: withNumber(row, findings) };
    default:
      return { kind: row.meaning, note: withNumber(row, findings) };
  }
}

/** A whole number of animals; a rough one keeps its wording. */
export function readAnimals(
  row: { number: string },
  context: { mark: DecimalMark; numberColumn: string | null },
  findings: Findings,
): { value: number; wording: string | null } | null {
  const column = context.numberColumn;
  if (row.number === '') return findings.fault('number-missing', 'There is no number.', column);
  const read = readNumber(row.number, context.mark);
  if ('fault' in read) return findings.fault(read.fault, read.reason, column);
  if (!Number.isInteger(read.value)) {
    return findings.fault('number-not-whole', `“${row.number}” is no whole number.`, column);
  }
  if (read.value > MOST_ANIMALS) {
    return findings.fault('number-too-large', `${read.value} animals cannot be.`, column);
  }
  return { value: read.value, wording: read.rough ? read.wording : null };
}

function readCheck(row: TellingRow, findings: Findings): Entry {
  const { findings: seen, note } = readCheckNote(row.note);
  if (row.number === '') return { kind: 'check', ...seen, note };
  return { kind: 'check', ...seen, note: withNumber({ ...row, note }, findings) };
}

function readSimpleCount(row: TellingRow, context: EntryContext, findings: Findings): Entry | null {
  const read = readAnimals(row, context, findings);
  if (!read || !withinColony(read.value, context, findings)) return null;
  const { value: counted, wording } = read;
  let count: ImportedCount = { method: 'visible', counted };
  if (row.meaning === 'full count') {
    count = { method: 'full', counted };
    if (wording !== null) {
      // Taken as animals that showed it would stand for several times as many; so it stays a full count in doubt.
      count = { method: 'full', counted, relativeSd: ROUGH_RELATIVE_SD };
      findings.notice('rough-full-count', `“${wording}” is kept as a full count, give or take 20 %.`);
    }
  }
  return { kind: 'count', count, wording, note: row.note };
}

function readWorkedCount(row: TellingRow, context: EntryContext, findings: Findings): Entry | null {
  const { note } = row;
  if (row.meaning === 'removal count') {
    const catches = `${row.number} ${row.number ? '' : note}`.match(/\d{1,7}/g)?.map(Number) ?? [];
    if (catches.length < 2 || catches.length > 20) {
      return findings.fault(
        'details-missing',
        'A removal count needs 2 to 20 catches, “77, 50, 37”.',
        context.numberColumn,
      );
    }
    return {
      kind: 'count',
      count: { method: 'removal', catches, estimator: 'carle-strub' },
      wording: null,
      note,
    };
  }
  if (row.meaning === 'sample count') {
    const read = readAnimals(row, context, findings);
    const fraction = fractionIn(note);
    if (fraction === null) {
      findings.fault(
        'details-missing',
        'A sample count needs the share that was searched, “20 %”.',
        context.noteColumn,
      );
    }
    if (!read || fraction === null || !withinColony(read.value, context, findings)) return null;
    const count: ImportedCount = { method: 'sample', counted: read.value, fraction };
    return { kind: 'count', count, wording: read.wording, note };
  }
  const [marked, caught, recaptured] = ['marked', 'caught', 'recaptured'].map((name) => figureIn(note, name));
  if (!marked || !caught || recaptured === undefined || recaptured > Math.min(marked, caught)) {
    return findings.fault(
      'details-missing',
      'A mark-recapture count needs three figures that fit, “marked 30, caught 25, recaptured 8”.',
      context.noteColumn,
    );
  }
  const count: ImportedCount = { method: 'mark-recapture', marked, caught, recaptured, estimator: 'chapman' };
  return { kind: 'count', count, wording: null, note: withNumber(row, findings) };
}

function readWater(row: TellingRow, context: EntryContext, findings: Findings): Entry | null {
  // Whoever has no column for it writes the amount in the note.
  if (row.number === '' && AMOUNT_ALONE.test(row.note)) {
    const waterMl = readWaterMl(row.note, { ...context, numberColumn: context.noteColumn }, findings);
    return waterMl === null ? null : { kind: 'water', waterMl, note: '' };
  }
  if (row.number === '' && context.waterMl !== null) {
    findings.notice('water-assumed', `Taken as ${context.waterMl} ml.`);
    return { kind: 'water', waterMl: context.waterMl, note: row.note };
  }
  const waterMl = readWaterMl(row.number, context, findings);
  return waterMl === null ? null : { kind: 'water', waterMl, note: row.note };
}

function readMoved(row: TellingRow, context: EntryContext, findings: Findings): Entry | null {
  const read = readAnimals(row, context, findings);
  if (read?.value === 0) findings.fault('number-zero', '0 animals were moved.', context.numberColumn);
  if (read && read.wording !== null)
    findings.notice('rough-amount', `“${read.wording}” is taken as ${read.value}.`);
  const moved = { animals: read?.value ?? 0, adults: null, juveniles: null };
  if (row.meaning === 'harvest')
    return read?.value ? { kind: 'harvest', ...moved, toCode: null, note: row.note } : null;
  if (row.meaning === 'addition') {
    const fits = read !== null && withinColony(read.value, context, findings);
    return read?.value && fits ? { kind: 'addition', ...moved, fromCode: null, note: row.note } : null;
  }
  const child = readSplitChild(row.note, row.code, context, findings);
  if (!read?.value || !child) return null;
  return { kind: 'split', ...moved, childCode: child.code, seedingMl: null, note: child.note };
}

function readDieOff(row: TellingRow, context: EntryContext, findings: Findings): Entry | null {
  const inNumber = row.number.includes('%') ? row.number : '';
  const read = readDieOffNote(inNumber === '' ? row.note : inNumber);
  const note = inNumber === '' ? withNumber(row, findings) : row.note;
  if (read) {
    if (read.rough) {
      const lost = Math.round((1 - read.survivalMedian) * 100);
      findings.notice(
        'die-off-doubt',
        `“${inNumber || row.note}” is taken as ${lost} % lost, give or take 10 points.`,
      );
    }
    return { kind: 'die-off', survivalMedian: read.survivalMedian, survivalSdLog: read.survivalSdLog, note };
  }
  if (context.lostPercent === null) {
    return findings.fault('share-missing', 'The share that died is not told.', context.noteColumn);
  }
  findings.notice('die-off-assumed', `Taken as ${context.lostPercent} % lost.`);
  const { survivalMedian, survivalSdLog } = survivalOf(context.lostPercent, true);
  return { kind: 'die-off', survivalMedian, survivalSdLog, note };
}

function withinColony(animals: number, context: EntryContext, findings: Findings): boolean {
  if (animals <= context.largestColony) return true;
  const most = context.largestColony;
  findings.fault(
    'number-too-large',
    `${animals} animals: no colony is taken to hold more than ${most}.`,
    context.numberColumn,
  );
  return false;
}

/** The note, with a number that the entry has no other place for at its end. */
function withNumber(row: { number: string; note: string }, findings: Findings): string {
  if (row.number === '') return row.note;
  findings.notice('number-kept-in-note', `The number “${row.number}” is kept in the note.`);
  return row.note === '' ? row.number : `${row.note} (${row.number})`;
}

function fractionIn(note: string): number | null {
  const percent = /(\d{1,3}(?:[.,]\d{1,3})?)\s?%/.exec(note);
  const parts = /\b(\d{1,2})\s?\/\s?(\d{1,3})\b/.exec(note);
  const fraction = percent
    ? Number(percent[1]!.replace(',', '.')) / 100
    : parts
      ? Number(parts[1]) / Number(parts[2])
      : Number.NaN;
  return fraction > 0 && fraction <= 1 ? fraction : null;
}

function figureIn(note: string, name: string): number | undefined {
  const match = new RegExp(`\\b${name}:? (\\d{1,7})\\b|\\b(\\d{1,7}) ${name}\\b`, 'i').exec(note);
  return match ? Number(match[1] ?? match[2]) : undefined;
}
