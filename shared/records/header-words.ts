export const culturesRoles = [
  'code',
  'species',
  'commonName',
  'morph',
  'lineName',
  'enclosure',
  'place',
  'foundedOn',
  'origin',
  'animals',
  'foundingSdLog',
  'status',
  'endedOn',
  'note',
] as const;
export const diaryRoles = ['date', 'code', 'what', 'number', 'note', 'by', 'details'] as const;

export type CulturesRole = (typeof culturesRoles)[number];
export type DiaryRole = (typeof diaryRoles)[number];
export type Role = CulturesRole | DiaryRole;

/** Headers as people write them, the likeliest first (common practice, no source). */
export const culturesHeaders: Record<CulturesRole, readonly string[]> = {
  code: [
    'code',
    'culture',
    'culture code',
    'id',
    'culture id',
    'no',
    'number',
    'label',
    'tub',
    'name',
    'colony',
  ],
  species: ['species', 'scientific name', 'latin name', 'latin', 'animal', 'taxon', 'kind'],
  commonName: ['common name', 'trade name', 'vernacular name'],
  morph: ['morph', 'colour', 'color', 'variety', 'form', 'strain', 'phase'],
  lineName: ['line', 'bloodline', 'lineage', 'stock line', 'family'],
  enclosure: [
    'enclosure',
    'box',
    'container',
    'tub',
    'tank',
    'bin',
    'enclosure type',
    'cup',
    'vivarium',
    'size',
  ],
  place: ['place', 'where', 'location', 'position', 'shelf', 'rack', 'room', 'spot'],
  foundedOn: [
    'founded',
    'founded on',
    'started',
    'start',
    'start date',
    'date',
    'since',
    'set up',
    'begun',
    'created',
  ],
  origin: ['origin', 'from', 'parent', 'source', 'parents', 'came from', 'split from', 'mother culture'],
  animals: [
    'founding animals',
    'started with',
    'animals',
    'founders',
    'starting number',
    'count',
    'number',
    'qty',
    'n',
    'start count',
  ],
  foundingSdLog: ['founding sd log'],
  status: ['status', 'state', 'condition', 'active'],
  endedOn: ['ended on', 'ended', 'end date', 'retired on', 'retired', 'closed', 'died'],
  note: ['note', 'notes', 'remarks', 'remark', 'comment', 'comments', 'info'],
};

export const diaryHeaders: Record<DiaryRole, readonly string[]> = {
  date: ['date', 'day', 'when', 'on', 'date of entry', 'logged', 'timestamp'],
  code: ['culture', 'code', 'culture code', 'id', 'culture id', 'tub', 'box', 'colony', 'name', 'which'],
  what: ['what', 'action', 'event', 'type', 'activity', 'task', 'kind', 'entry', 'did', 'done'],
  number: ['number', 'amount', 'quantity', 'qty', 'count', 'value', 'how many', 'n', 'animals'],
  note: ['note', 'notes', 'remarks', 'remark', 'comment', 'comments', 'info', 'observation', 'observations'],
  by: ['by', 'who', 'person', 'keeper', 'staff', 'helper', 'initials', 'user', 'done by'],
  details: ['details'],
};

const LONGEST_HEADER = 120;

/** A header in the form in which headers are compared: `Started_with (n)` is `started with`. */
export function headerForm(text: string): string {
  return text
    .slice(0, LONGEST_HEADER)
    .normalize('NFKC')
    .toLowerCase()
    .replace(/\(.*?\)|\[.*?\]/g, ' ')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}

/**
 * How well a header fits a role: 1 for the likeliest word, a little less for each further one, half where the
 * word is only a part of the header, 0 where nothing fits.
 *
 * @example headerScore('Started with', culturesHeaders.animals) // 0.98
 */
export function headerScore(header: string, words: readonly string[]): number {
  const form = headerForm(header);
  if (form === '') return 0;
  const at = words.indexOf(form);
  if (at >= 0) return 1 - 0.02 * at;
  const padded = ` ${form} `;
  return words.some((word) => word.length > 2 && padded.includes(` ${word} `)) ? 0.5 : 0;
}
