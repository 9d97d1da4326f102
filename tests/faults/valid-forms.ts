import { eq } from 'drizzle-orm';
import * as tables from '../../server/schema/tables.ts';
import type { Names } from '../support/known-names.ts';
import { testToday } from '../support/test-app.ts';
import type { Walk } from '../support/walk.ts';

type Fields = Record<string, string | string[]>;
type Step = readonly [path: string, fields: Fields];
type Filled = { fields?: Fields; before?: readonly Step[]; file?: { field: string; text: string } };

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

const placed: Step = ['/orders/1/reserve', { 'groups-1-1': '1' }];
const promised: Step = ['/orders/1/confirm', { tell: 'yes' }];
const packed: Step = ['/orders/1/pack', { 'tick-1-1': 'yes' }];
const gone: Step = ['/orders/1/sent', { sentOn: testToday, tell: 'yes' }];

const order: Record<string, Filled> = {
  '/orders': { fields: { customer: '1', 'species-0': '1', 'groups-0': '1', note: 'by telephone' } },
  '/orders/:number': {
    fields: { 'groups-0': '2', 'species-1': '', 'species-2': '', 'groups-1': '', 'groups-2': '' },
  },
  '/orders/:number/reserve': { fields: placed[1] },
  '/orders/:number/release': { fields: { pick: '1-1', line: '1', culture: '1' }, before: [placed] },
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
  '/orders/:number/arrival/told': {
    fields: { 'arrived-1': '9', arrived: '9', note: 'by telephone', what: 'all well', allWell: 'yes' },
    before: [placed, promised, packed, gone],
  },
  '/parcels/orders/:number/hold': {
    fields: { reason: 'too cold', until: testToday },
    before: [placed, promised],
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
  '/cultures/:code/write': { fields: { kind: 'note', note: 'moved the bark' } },
  '/cultures/:code/catches': { fields: { caught: '60', done: '', go: '' } },
  '/cultures/:code/photo': { file: { field: 'photo', text: '' } },
  '/surplus/count-next': { fields: { codes: '@culture', first: '1' } },
  '/climate/:id/file': {
    file: { field: 'file', text: 'time,temperature,humidity\n2026-11-24 10:00,21.5,70\n' },
  },
  '/parcels/weather/file': {
    fields: { source: 'the paper' },
    file: { field: 'file', text: 'place,day,low,high\n@place,2026-11-26,1,6\n' },
  },
  '/parcels/weather/:id/file': {
    fields: { source: 'the paper' },
    file: { field: 'file', text: 'day,low,high\n2026-11-26,1,6\n' },
  },
  '/parcels/weather/:id/take-out': {
    fields: { onDay: testToday, source: 'the radio' },
    before: [['/parcels/weather/1/days', { onDay: testToday, low: '1', high: '6', source: 'the radio' }]],
  },
  '/parcels/weather/services/:service': { fields: { isOn: 'yes' } },
  '/customers/:id/erase': { fields: { name: '@customer', sure: 'yes', typed: '@customer' } },
  '/records/drafts': { file: { field: 'file1', text: 'Date,Culture,What\n2026-02-03,EX-0,check\n' } },
  '/labels/printed': { fields: { first: '1', cultures: '1' } },
  '/mails/:id/again': { before: [] },
  '/species': {
    fields: {
      scientificName: 'Exemplum novum',
      commonName: 'new isopod',
      animalGroup: 'isopod',
      sellable: 'yes',
      groupAdults: '10',
      groupJuveniles: '2',
      groupExtras: '2',
      price: '5.00',
    },
  },
  '/species/:id/edit': { fields: { commonName: 'another name' } },
  '/movement': { fields: { toCountry: 'FR' } },
  '/cultures/:code/mixing': { fields: { otherCode: '@culture', animals: '3', onDay: testToday } },
  '/cultures/:code/contacts': { fields: { other: '@feeder' } },
  '/people/invite': { fields: { name: 'Pat', role: 'helper' } },
};

const blankFilled = (fields: Fields): Fields =>
  Object.fromEntries(
    Object.entries(fields).map(([name, value]) => [name, value === '' ? (typed[name] ?? '') : value]),
  );

export type Sending = {
  path: string;
  before: readonly Step[];
  send: () => Promise<{ status: number; text: string }>;
};

/** The form of a route as the pages of a bench show it, with what must be typed into it. */
export function sendingOf(t: Walk, { forms }: Names, path: string): Sending {
  const address = t.at({ path });
  const shown = (forms.get(path) ?? []).find(({ action }) => action === address) ?? forms.get(path)?.[0];
  const { fields = {}, before = [], file } = filled[path] ?? {};
  const customer = t.db.select().from(tables.customers).where(eq(tables.customers.id, 1)).get()?.name ?? '';
  const others = t.db.select().from(tables.cultures).all();
  const words: Record<string, string> = {
    '@culture': others[0]?.code ?? '',
    '@feeder': others[1]?.code ?? '',
    '@customer': customer,
  };
  const said = (value: string | string[]) =>
    typeof value === 'string' ? (words[value] ?? value) : value.map((one) => words[one] ?? one);
  const all = Object.fromEntries(
    Object.entries({ ...blankFilled(shown?.fields ?? {}), ...fields }).map(([name, v]) => [name, said(v)]),
  );
  const send = () => {
    if (!file) return t.owner.post(address, all);
    const bytes = Buffer.from(file.text);
    return t.owner.upload(
      address,
      { field: file.field, name: 'sent.csv', bytes },
      all as Record<string, string>,
    );
  };
  return { path, before, send };
}
