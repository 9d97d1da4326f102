import type { FileKind } from '../../shared/records/entries.ts';
import type { Role } from '../../shared/records/header-words.ts';
import type { Meaning } from '../../shared/records/meanings.ts';
import type { OptionGroup } from '../layout/field.tsx';

/** What a column of a file can hold, as people read it. */
export const roleWords: Record<Role, string> = {
  code: 'Culture code',
  species: 'Species',
  commonName: 'Common name',
  morph: 'Morph',
  lineName: 'Line',
  enclosure: 'Enclosure',
  place: 'Place',
  foundedOn: 'Founding day',
  origin: 'Where it comes from',
  animals: 'Founding animals',
  foundingSdLog: 'Doubt of the founding animals (of an export)',
  status: 'Status',
  endedOn: 'Day it ended',
  note: 'Note',
  date: 'Day',
  what: 'What was done or seen',
  number: 'Number',
  by: 'Who did it',
  details: 'Details (of an export)',
};

export const kindWords: Record<FileKind, string> = { cultures: 'a list of cultures', diary: 'a diary' };

/** What a word of a diary can mean, as people read it. */
const meaningWords: Record<Meaning, string> = {
  check: 'Check',
  'visible count': 'Animals seen (visible count)',
  'full count': 'All counted (full count)',
  'sample count': 'Part of the substrate searched (sample count)',
  'removal count': 'Caught again and again (removal count)',
  'mark-recapture count': 'Marked and caught again (mark-recapture)',
  water: 'Watered',
  feed: 'Fed',
  'fruit in': 'Fruit in',
  'fruit out': 'Fruit out',
  harvest: 'Taken out, sold (harvest)',
  addition: 'Put in (addition)',
  split: 'Split: a new culture begins',
  'die-off': 'Die-off: many died',
  deaths: 'Dead ones found',
  mites: 'Mites',
  mould: 'Mould',
  move: 'Moved to another place',
  quarantine: 'Into quarantine',
  release: 'Out of quarantine',
  retirement: 'Retired',
  note: 'Note',
  'leave out': 'Leave these rows out',
};

const group = (title: string, ...meanings: Meaning[]): OptionGroup => ({
  group: title,
  options: meanings.map((value) => ({ value, label: meaningWords[value] })),
});

export const meaningOptions: readonly OptionGroup[] = [
  group(
    'Looking and counting',
    'check',
    'visible count',
    'full count',
    'sample count',
    'removal count',
    'mark-recapture count',
  ),
  group('Care', 'water', 'feed', 'fruit in', 'fruit out'),
  group('Animals', 'harvest', 'addition', 'split', 'die-off', 'deaths'),
  group('Health', 'mites', 'mould', 'quarantine', 'release'),
  group('The rest', 'move', 'retirement', 'note'),
  group('Not brought in', 'leave out'),
];

export const originOptions = [
  { value: 'wild', label: 'Caught in the wild' },
  { value: 'bought', label: 'Bought or swapped' },
  { value: 'unknown', label: 'Not known' },
];
export const statusOptions = [
  { value: 'active', label: 'Active' },
  { value: 'quarantine', label: 'In quarantine' },
  { value: 'retired', label: 'Retired' },
];

export const encodingOptions = [
  { value: 'utf-8', label: 'UTF-8' },
  { value: 'windows-1252', label: 'Windows-1252 (Western European)' },
  { value: 'utf-16le', label: 'UTF-16, little end first' },
  { value: 'utf-16be', label: 'UTF-16, big end first' },
];
export const delimiterWords: Record<string, string> = {
  ',': 'commas',
  ';': 'semicolons',
  '\t': 'tabs',
  '|': 'bars',
};
export const delimiterOptions = [
  { value: ',', label: 'Comma ,' },
  { value: ';', label: 'Semicolon ;' },
  { value: '\t', label: 'Tab' },
  { value: '|', label: 'Bar |' },
];
