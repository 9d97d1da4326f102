// Which forms are kept when there is no signal, and what a form says.

const kinds = [
  { kind: 'all-well', path: /^\/cultures\/([^/]+)\/all-well$/ },
  { kind: 'check', path: /^\/cultures\/([^/]+)\/check$/ },
  { kind: 'count', path: /^\/cultures\/([^/]+)\/count$/ },
  { kind: 'write', path: /^\/cultures\/([^/]+)\/write$/ },
  { kind: 'many', path: /^\/round\/all-well$/ },
];

/** What kind of work an address writes down, and of which culture; null where it is none of the round. */
export function workAt(pathname) {
  for (const { kind, path } of kinds) {
    const found = path.exec(pathname);
    if (found) return { kind, code: found[1] === undefined ? null : decodeURIComponent(found[1]) };
  }
  return null;
}

/** A part of a long round as an address names it; null where none is. */
export const partNamed = (text) => (/^[1-9]\d{0,3}$/.test(text ?? '') ? Number(text) : null);
export const roundPath = (part) => (part === null ? '/round' : `/round?part=${part}`);

/** The part of the round somebody comes from, as addresses and forms say it: 'round.3'. */
export const partFrom = (from) => (from?.startsWith('round.') ? partNamed(from.slice(6)) : null);

/** The civil day of an instant in the business's zone: '2026-11-25'. */
export function dayOf(instant, timeZone) {
  const options = { year: 'numeric', month: '2-digit', day: '2-digit', ...(timeZone && { timeZone }) };
  return new Intl.DateTimeFormat('en-CA', options).format(instant);
}

const ownNames = new Set(['_csrf', 'formKey', 'keptEntry']);

/** A form's body apart: its key, the kept entry it mends, and what a person has said with it. */
export function readBody(text) {
  const body = new URLSearchParams(text);
  return {
    formKey: body.get('formKey') ?? '',
    mends: Number(body.get('keptEntry')) || null,
    fields: [...body].filter(([name]) => !ownNames.has(name)),
  };
}

export const valuesOf = (fields, name) => fields.filter(([own]) => own === name).map(([, value]) => value);

const labels = {
  onDay: 'Day',
  surface: 'Surface',
  springtails: 'Springtails',
  springtailsWhere: 'Springtails are',
  feedersLeft: 'Feeders left',
  youngSeen: 'Young seen',
  lookedFor: 'Looked for',
  substrate: 'Substrate renewed',
  eggsSeen: 'Eggs or brood seen',
  mouldSeen: 'Mould',
  mitesSeen: 'Mites',
  deaths: 'Dead animals',
  visible: 'Animals seen',
  waterMl: 'Watered',
  food: 'Fed',
  feederFrom: 'Feeders from',
  fruitIn: 'Fresh fruit put in',
  fruitOut: 'Old fruit taken out',
  tools: 'Tools not cleaned',
  toolsFrom: 'Tools used before at',
  counted: 'Counted',
  fraction: 'Part searched',
  amount: 'Amount',
  animals: 'Animals',
  adults: 'Adults',
  juveniles: 'Juveniles',
  did: 'What was due is done',
  what: 'Done',
  note: 'Note',
};
const unsaid = new Set([
  'codes',
  'along',
  'from',
  'method',
  'kind',
  'taps',
  'photo',
  'did',
  'waterUnit',
  'amountUnit',
]);
const found = {
  young: 'young, there',
  adults: 'adults, there',
  'no-young': 'young, none yet',
  'no-adults': 'adults, none yet',
};
const done = { water: 'watered', feed: 'fed', fruit: 'fruit out' };

const titles = { 'all-well': 'All well', many: 'All well', check: 'Check', count: 'Count' };
const written = {
  feed: 'Fed',
  water: 'Watered',
  'fruit-in': 'Fruit in',
  'fruit-out': 'Fruit out',
  note: 'Note',
};

/** "Check", "Watered", "All well, did what was due": what an entry is. */
export function titleOf({ kind, fields }) {
  const [did] = valuesOf(fields, 'did');
  if (valuesOf(fields, 'lookedFor')[0] && kind === 'all-well') return 'Look';
  if (kind === 'many' && did) return 'All well, did what was due';
  if (kind === 'write') return written[valuesOf(fields, 'kind')[0]] ?? 'Diary entry';
  return titles[kind] ?? 'Entry';
}

/** What was typed, as pairs of words: [['Surface', 'dry'], ['Fed', 'flakes']]. */
export function saidIn({ fields }) {
  return fields
    .filter(([name, value]) => value !== '' && !unsaid.has(name))
    .map(([name, value]) => [labels[name] ?? name, `${wordsOf(name, value)}${unitOf(fields, name)}`]);
}

const unitNames = { waterMl: 'waterUnit', amount: 'amountUnit' };

/** The unit that was chosen beside a number; an older page had none beside the water, which was in millilitres. */
function unitOf(fields, name) {
  if (!unitNames[name]) return '';
  const [unit = name === 'waterMl' ? 'ml' : ''] = valuesOf(fields, unitNames[name]);
  return unit && ` ${unit}`;
}

function wordsOf(name, value) {
  if (name === 'lookedFor') return found[value] ?? value;
  if (name !== 'what') return value;
  return value
    .split(' ')
    .map((kind) => done[kind] ?? kind)
    .join(', ');
}

/** What is said of an entry that was kept. */
export const keptWords = ({ waitsFor }) =>
  waitsFor === 'service'
    ? 'Kept on this device, sent when the service takes entries again.'
    : 'Kept on this device, sent when there is a signal.';

/** Where the same form is opened again. */
export function formHref({ id, kind, path, search, fields }) {
  const from = new URLSearchParams(search).get('from');
  if (kind === 'many') return roundPath(partFrom(from));
  const page = kind === 'all-well' ? path.replace(/all-well$/, 'check') : path;
  const asked = new URLSearchParams();
  if (kind === 'check' || kind === 'all-well') asked.set('from', from ?? 'round');
  for (const name of ['method', 'kind', 'from']) {
    const [value] = valuesOf(fields, name);
    if (value) asked.set(name, value);
  }
  return `${page}?${asked}#kept-${id}`;
}
