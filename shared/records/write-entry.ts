import type { Entry, ImportedCount } from './entries.ts';
import type { Meaning } from './meanings.ts';
import { writePlace } from './places.ts';

type Pairs = readonly (readonly [string, string | number | boolean | null])[];

/** The cells in which an export tells an entry; `readExactEntry` reads the same entry back from them. */
export function writeExactEntry(entry: Entry): {
  what: Meaning;
  number: number | '';
  note: string;
  details: Pairs;
} {
  const { note } = entry;
  switch (entry.kind) {
    case 'check':
      return { what: 'check', number: '', note, details: checkDetails(entry) };
    case 'count':
      return writeCount(entry.count, entry.wording, note);
    case 'water':
      return { what: 'water', number: entry.waterMl, note, details: [] };
    case 'feed':
      return {
        what: 'feed',
        number: '',
        note,
        details: [
          ['food', entry.food ?? ''],
          ['from', entry.fromCode],
        ],
      };
    case 'harvest':
    case 'addition':
    case 'split': {
      const details: Pairs = [...whither(entry), ['adults', entry.adults], ['juveniles', entry.juveniles]];
      return { what: entry.kind, number: entry.animals, note, details };
    }
    case 'die-off': {
      const details: Pairs = [
        ['survival', entry.survivalMedian],
        ['survival sd log', entry.survivalSdLog],
      ];
      return { what: 'die-off', number: '', note, details };
    }
    case 'move':
      return { what: 'move', number: '', note, details: [['place', writePlace(entry.place)]] };
    case 'fruit-in':
      return { what: 'fruit in', number: '', note, details: [] };
    case 'fruit-out':
      return { what: 'fruit out', number: '', note, details: [] };
    default:
      return { what: entry.kind, number: '', note, details: [] };
  }
}

function whither(entry: Extract<Entry, { kind: 'harvest' | 'addition' | 'split' }>): Pairs {
  if (entry.kind === 'harvest') return [['to', entry.toCode]];
  if (entry.kind === 'addition') return [['from', entry.fromCode]];
  return [
    ['child', entry.childCode],
    ['seeding ml', entry.seedingMl],
  ];
}

function checkDetails(entry: Extract<Entry, { kind: 'check' }>): Pairs {
  const told: Pairs = [
    ['surface', entry.surface],
    ['springtails', entry.springtails],
    ['springtails where', entry.springtailsWhere],
    ['feeders left', entry.feedersLeft],
    ['young seen', entry.youngSeen],
    ['eggs seen', entry.eggsSeen],
    ['mould seen', entry.mouldSeen],
    ['mites seen', entry.mitesSeen],
    ['deaths', entry.deaths],
  ];
  // Something must stand there, or the note would be read for what it says on the way back.
  return told.some(([, value]) => value !== null) ? told : [['all well', true]];
}

function writeCount(count: ImportedCount, wording: string | null, note: string) {
  const { method, ...given } = count;
  const { detection, ...figures } = 'detection' in given ? given : { ...given, detection: undefined };
  const counted = 'counted' in figures ? figures.counted : '';
  const shown: Pairs = [
    ['detection alpha', detection?.alpha ?? null],
    ['detection beta', detection?.beta ?? null],
  ];
  const rest = Object.entries(figures)
    .filter(([name]) => name !== 'counted' && name !== 'level')
    .map(([name, value]): [string, string | number] => [
      name === 'relativeSd' ? 'relative sd' : name,
      Array.isArray(value) ? value.join(', ') : (value as string | number),
    ]);
  const details: Pairs = [['method', method], ...rest, ...shown, ['wording', wording]];
  return { what: `${method} count` as Meaning, number: counted as number | '', note, details };
}
