import { countInput, MOST_ANIMALS } from '../counts/form.ts';
import { DetailReader, type ExactContext, type ExactRow } from './detail-reader.ts';
import type { Entry, ImportedCount } from './entries.ts';
import type { Findings } from './findings.ts';
import type { Meaning } from './meanings.ts';
import { readPlace } from './places.ts';

/** The entry of a row with details: nothing in it is guessed from words. null with its faults where it is none. */
export function readExactEntry(row: ExactRow, context: ExactContext, findings: Findings): Entry | null {
  const reader = new DetailReader(row, context, findings);
  const before = findings.faults.length;
  const entry = readKind(row, reader);
  reader.refuseTheRest();
  return findings.faults.length > before ? null : entry;
}

function readKind(row: ExactRow, reader: DetailReader): Entry | null {
  const { meaning, note } = row;
  switch (meaning) {
    case 'check':
    case 'deaths':
      return readCheck(meaning === 'deaths' ? reader.animals() : null, reader, note);
    case 'visible count':
    case 'full count':
    case 'sample count':
    case 'removal count':
    case 'mark-recapture count':
      return readCount(meaning, reader, note);
    case 'water':
      return { kind: 'water', waterMl: reader.numberCell(0, 10_000) ?? 0, note };
    case 'feed': {
      const food = reader.text('food', 80);
      return { kind: 'feed', food: food === '' ? null : food, fromCode: reader.culture('from'), note };
    }
    case 'harvest':
    case 'addition':
    case 'split':
      return readMoved(meaning, reader, note);
    case 'die-off': {
      // Nobody at all left is written as one in a thousand; zero has no logarithm.
      const survivalMedian = reader.number('survival', 0.000_001, 1) ?? reader.fail('“survival” is missing.');
      const survivalSdLog =
        reader.number('survival sd log', 0, 10) ?? reader.fail('“survival sd log” is missing.');
      return {
        kind: 'die-off',
        survivalMedian: survivalMedian ?? 1,
        survivalSdLog: survivalSdLog ?? 0,
        note,
      };
    }
    case 'move': {
      const place = readPlace(reader.text('place', 2000) ?? '');
      if (place.length === 0) reader.fail('“place” is missing.');
      return { kind: 'move', place, note };
    }
    case 'fruit in':
      return { kind: 'fruit-in', note };
    case 'fruit out':
      return { kind: 'fruit-out', note };
    default:
      return { kind: meaning, note };
  }
}

function readMoved(meaning: 'harvest' | 'addition' | 'split', reader: DetailReader, note: string): Entry {
  const moved = {
    animals: reader.animals(1) ?? 0,
    adults: reader.whole('adults'),
    juveniles: reader.whole('juveniles'),
  };
  if (meaning === 'harvest') return { kind: 'harvest', ...moved, toCode: reader.culture('to'), note };
  if (meaning === 'addition') return { kind: 'addition', ...moved, fromCode: reader.culture('from'), note };
  const childCode = reader.culture('child', true) ?? '';
  return { kind: 'split', ...moved, childCode, seedingMl: reader.number('seeding ml', 0, 1_000_000), note };
}

function readCheck(deaths: number | null, reader: DetailReader, note: string): Entry {
  reader.yesNo('all well');
  return {
    kind: 'check',
    surface: reader.oneOf('surface', ['wet', 'moist', 'dry']),
    springtails: reader.oneOf('springtails', ['none', 'few', 'some', 'many']),
    springtailsWhere: reader.oneOf('springtails where', ['low', 'ranging']),
    feedersLeft: reader.oneOf('feeders left', ['none', 'few', 'plenty']),
    youngSeen: reader.yesNo('young seen'),
    eggsSeen: reader.yesNo('eggs seen'),
    mouldSeen: reader.yesNo('mould seen'),
    mitesSeen: reader.yesNo('mites seen'),
    deaths: deaths ?? reader.whole('deaths'),
    note,
  };
}

function readVisible(reader: DetailReader, wording: string | null, note: string): Entry {
  const counted = reader.animals() ?? 0;
  const [alpha, beta] = ['detection alpha', 'detection beta'].map((name) =>
    reader.number(name, 0.000_001, 1_000_000),
  );
  const detection = alpha && beta ? { detection: { alpha, beta } } : {};
  return { kind: 'count', count: { method: 'visible', counted, ...detection }, wording, note };
}

function readCount(meaning: Meaning, reader: DetailReader, note: string): Entry | null {
  const method = meaning.replace(/ count$/, '');
  reader.oneOf('method', [method]);
  const wording = reader.text('wording', 80);
  if (method === 'visible') return readVisible(reader, wording, note);
  const figures: Record<string, unknown> = { method };
  if (method === 'full' || method === 'sample') figures.counted = reader.animals();
  const names = ['relative sd', 'fraction', 'clumping', 'marked', 'caught', 'recaptured'];
  for (const name of names) {
    const value = reader.number(name, 0, MOST_ANIMALS);
    if (value !== null) figures[name === 'relative sd' ? 'relativeSd' : name] = value;
  }
  const catches = reader.text('catches', 400);
  if (catches !== null) figures.catches = catches.split(',').map(Number);
  const estimator = reader.text('estimator', 40);
  if (estimator !== null) figures.estimator = estimator;
  const parsed = countInput.safeParse(figures);
  if (parsed.success && parsed.data.method !== 'visible') {
    // The figures as they are told: a default filled in here would look like something the person said.
    return { kind: 'count', count: figures as ImportedCount, wording, note };
  }
  return reader.fail('The figures of this count do not fit its method.');
}
