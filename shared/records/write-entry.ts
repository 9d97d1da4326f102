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
      return { what: 'feed', number: '', note, details: [['food', entry.food ?? '']] };
    case 'harvest':
    case 'addition':
    case 'split': {
      const extra: Pairs =
        entry.kind === 'split'
          ? [
              ['child', entry.childCode],
              ['seeding ml', entry.seedingMl],
            ]
          : [['from', entry.kind === 'addition' ? entry.fromCode : null]];
      const details: Pairs = [...extra, ['adults', entry.adults], ['juveniles', entry.juveniles]];
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
  const { method, ...figures } = count;
  const counted = 'counted' in figures ? figures.counted : '';
  const rest = Object.entries(figures)
    .filter(([name]) => name !== 'counted' && name !== 'level')
    .map(([name, value]): [string, string | number] => [
      name === 'relativeSd' ? 'relative sd' : name,
      Array.isArray(value) ? value.join(', ') : (value as string | number),
    ]);
  const details: Pairs = [['method', method], ...rest, ['wording', wording]];
  return { what: `${method} count` as Meaning, number: counted as number | '', note, details };
}
