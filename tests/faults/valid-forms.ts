import { eq } from 'drizzle-orm';
import * as tables from '../../server/schema/tables.ts';
import type { Names } from '../support/known-names.ts';
import { formsOn } from '../support/page-parts.ts';
import { testToday } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import type { Walk } from '../support/walk.ts';
import { type FullStep, gone, packed, placed, promised, withHistory } from './forms-with-history.ts';

export type Fields = Record<string, string | string[]>;
/** What is sent first: a form in full, or that of another route as it is filled in here. */
export type Step = FullStep | string;
type SentFile = {
  field: string;
  name: string;
  bytes: (get: (path: string) => Promise<string>) => Buffer | Promise<Buffer>;
};
export type Filled = {
  /** Words like `@culture` stand for what a bench calls it. */
  fields?: Fields;
  before?: readonly Step[];
  /** What must be there besides; gives more such words. */
  ready?: (t: Walk) => Record<string, string> | Promise<Record<string, string>>;
  /** The page whose form it is, where that only comes by the steps before. */
  on?: string;
  /** The route whose form holds the same. */
  like?: string;
  /** Its address, where no page of the bench shows it. */
  to?: string;
  file?: SentFile;
  /** Sent by somebody who is not signed in. */
  asNobody?: boolean;
  /** A password is hashed for it: only with PAYLOADS=all. */
  isSlow?: boolean;
};
const csv = (field: string, text: string): SentFile => ({
  field,
  name: 'sent.csv',
  bytes: () => Buffer.from(text),
});

/** What somebody types where a form comes blank, by the name of the field. */
const typed: Record<string, string> = {
  reason: 'asked for',
  name: 'Another one',
  names: 'Shelf 9',
  source: 'the radio',
  words: 'A paper is needed.',
  counted: '120',
  adults: '12',
  juveniles: '3',
  caught: '30, 20',
  temp: '21',
  humidity: '70',
  low: '3',
  high: '8',
  mass: '300',
  rate: '19',
  wall: '30',
  conductivity: '0.035',
  watts: '0.2',
  hours: '40',
  latitude: '52.5',
  longitude: '13.4',
  labelWidth: '60',
  labelHeight: '30',
  length: '200',
  width: '150',
  height: '100',
  diameter: '120',
  substrateDepth: '40',
  emptyMass: '200',
  speciesId: '1',
  enclosureId: '1',
  foundingAnimals: '12',
};

const order: Record<string, Filled> = {
  '/orders': { fields: { customer: '1', 'species-0': '1', 'groups-0': '1', note: 'by telephone' } },
  '/orders/:number': {
    fields: { 'groups-0': '2', 'species-1': '', 'species-2': '', 'groups-1': '', 'groups-2': '' },
  },
  '/orders/:number/reserve': { fields: placed[1] },
  '/orders/:number/confirm': { fields: promised[1], before: [placed] },
  '/orders/:number/pack': { fields: packed[1], before: [placed, promised] },
  '/orders/:number/unpack': { before: [placed, promised, packed] },
  '/orders/:number/sent': { fields: gone[1], before: [placed, promised, packed] },
  '/orders/:number/close': { before: [placed, promised, packed, gone] },
  '/orders/:number/link': { before: [placed, promised] },
  '/orders/:number/amends': {
    fields: { kind: 'refund', amount: '1.00', reason: 'one dead' },
    before: [placed, promised, packed, gone],
  },
  '/parcels/orders/:number/let-go': {
    before: [placed, promised, ['/parcels/orders/1/hold', { reason: 'too cold' }]],
  },
  '/requests/:id/reopen': { before: [['/requests/1/refuse', { reason: 'none left' }]] },
  '/requests/:id/forget': { before: [['/requests/1/refuse', { reason: 'none left' }]] },
};

/** How a form is filled in whose blank fields must be; a step before it is whatever it takes to come so far. */
const filled: Record<string, Filled> = {
  ...order,
  ...withHistory,
  '/cultures/:code/write': { fields: { kind: 'note', note: 'moved the bark' } },
  '/surplus/count-next': { fields: { codes: '@culture', first: '1' } },
  '/climate/:id/file': {
    file: csv('file', 'time,temperature,humidity\n2026-11-24 10:00,21.5,70\n'),
  },
  '/parcels/weather/:id/file': {
    fields: { source: 'the paper' },
    file: csv('file', 'day,low,high\n2026-11-26,1,6\n'),
  },
  '/parcels/weather/:id/take-out': {
    fields: { onDay: testToday, source: 'the radio' },
    before: [['/parcels/weather/1/days', { onDay: testToday, low: '1', high: '6', source: 'the radio' }]],
  },
  '/records/drafts': { file: csv('file1', 'Date,Culture,What\n2026-02-03,EX-0,check\n') },
  '/labels/printed': { fields: { first: '1', cultures: '1' } },
  '/species/:id/edit': { fields: { commonName: 'another name' } },
  '/movement': { fields: { toCountry: 'FR' } },
  '/people/invite': { fields: { name: 'Pat', role: 'helper' } },
};

/** A button that asks for more rows is not what sends a form. */
const isButton = (name: string, value: string | string[]) => name === 'rows' && value === '';

const blankFilled = (fields: Fields): Fields =>
  Object.fromEntries(
    Object.entries(fields)
      .filter(([name, value]) => !isButton(name, value))
      .map(([name, value]) => [name, value === '' ? (typed[name] ?? '') : value]),
  );

type Answered = { status: number; text: string };
export type Sending = {
  path: string;
  isSlow: boolean;
  /** Does all that must come before, and gives what sends the form itself. */
  begin: () => Promise<() => Promise<Answered>>;
};

type Words = Record<string, string>;
function saying(words: Words) {
  const text = (value: string) => value.replace(/@[a-z]+/g, (word) => words[word] ?? word);
  const fields = (all: Fields): Fields =>
    Object.fromEntries(
      Object.entries(all).map(([name, v]) => [name, typeof v === 'string' ? text(v) : v.map(text)]),
    );
  return { text, fields };
}

const wordsOf = ({ db }: Walk): Words => ({
  '@culture': db.select().from(tables.cultures).get()?.code ?? '',
  '@customer': db.select().from(tables.customers).where(eq(tables.customers.id, 1)).get()?.name ?? '',
});

const patternOf = (path: string) => new RegExp(`^${path.replace(/:\w+/g, '[^/]+')}$`);

/** The form of a route on a page as it stands by now. */
async function formOn(t: Walk, where: string, path: string) {
  const { text } = await t.owner.get(where);
  const found = formsOn(text, where).find(({ action }) => patternOf(path).test(action));
  return found && { ...found, fields: found.fields as Fields };
}

/** The form of a route as the pages of a bench show it, with what must be typed into it. */
export function sendingOf(t: Walk, names: Names, path: string): Sending {
  const {
    fields = {},
    before = [],
    ready,
    on,
    like = path,
    file,
    to: at,
    asNobody = false,
    isSlow = false,
  } = filled[path] ?? {};
  const begin = async () => {
    const words = { ...wordsOf(t), ...(await ready?.(t)) };
    const said = saying(words);
    for (const step of before)
      if (typeof step === 'string') await (await sendingOf(t, names, step).begin())();
      else await t.owner.post(said.text(step[0]), said.fields(step[1]));
    const forms = names.forms.get(like);
    const address = t.at({ path });
    const usual = forms?.find(({ action }) => action === address) ?? forms?.[0];
    const shown = on === undefined ? undefined : await formOn(t, said.text(on), path);
    const to = at === undefined ? (shown?.action ?? address) : said.text(at);
    const all = said.fields({ ...blankFilled((shown ?? usual)?.fields ?? {}), ...fields });
    const visitor = asNobody ? new Visitor(t.app, null) : t.owner;
    await visitor.csrf();
    return async () => {
      if (!file) return visitor.post(to, all);
      const { field, name } = file;
      const get = async (where: string) => (await t.owner.get(said.text(where))).text;
      return visitor.upload(to, { field, name, bytes: await file.bytes(get) }, all as Record<string, string>);
    };
  };
  return { path, isSlow, begin };
}
