import sharp from 'sharp';
import { ensureLink } from '../../server/arrivals/queries-links.ts';
import { keepReport } from '../../server/arrivals/queries-reports.ts';
import { keepTrip } from '../../server/arrivals/queries-trips.ts';
import { codeAt, freshSecret } from '../../server/people/one-time-codes.ts';
import { findPerson } from '../../server/people/queries.ts';
import { addLink } from '../../server/people/queries-links.ts';
import { beginFactor, beginHalf, confirmFactor } from '../../server/people/queries-second-factor.ts';
import { insertPlace } from '../../server/places/queries.ts';
import { freshToken, makeSessions, sha256 } from '../../server/plumbing/sessions.ts';
import { insertUpload } from '../../server/records/queries-drafts.ts';
import { allocations } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { readyToPack } from '../support/packing-day.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { makeCulture } from '../support/stock.ts';
import { cast, testNow, testToday } from '../support/test-app.ts';
import type { Walk } from '../support/walk.ts';
import type { Fields, Filled } from './valid-forms.ts';

export type FullStep = readonly [path: string, fields: Fields];

/** Steps of an order on the bench, each of which needs those before it. */
export const placed: FullStep = ['/orders/1/reserve', { 'groups-1-1': '1' }];
export const promised: FullStep = ['/orders/1/confirm', { tell: 'yes' }];
export const packed: FullStep = ['/orders/1/pack', { 'tick-1-1': 'yes' }];
export const gone: FullStep = ['/orders/1/sent', { sentOn: testToday, tell: 'yes' }];

/** Another culture of the same species, so that the two can have to do with each other. */
const withAnother = ({ db }: Walk) => {
  makeCulture(db, { speciesId: 1, code: 'OTHER-1' });
  return {};
};
const theCulture = '/cultures/@culture';
const traced = { what: 'mites', since: testToday, seen: testToday };

const flat = { width: 96, height: 96, channels: 3, background: '#775533' } as const;

/** An upload of which every row can come in. */
const withUpload = ({ db, sqlite }: Walk) => {
  const code = sqlite.prepare('SELECT code FROM cultures WHERE id = 1').pluck().get();
  const text = `Date,Culture,What\n2026-11-20,${code},check\n`;
  const file = { name: 'diary.csv', bytes: new TextEncoder().encode(text) };
  return { '@draft': insertUpload(db, [file], {}, { personId: cast.owner.id, now: testNow }) };
};

const otherPassword = 'four grey woodlice';
const chosen = { password: otherPassword, again: otherPassword };

/** The owner's code of the moment, from a secret that was confirmed or waits for that. */
const withCode =
  (isConfirmed: boolean) =>
  ({ db }: Walk) => {
    const secret = freshSecret();
    beginFactor(db, cast.owner.id, secret, testNow);
    if (isConfirmed) confirmFactor(db, cast.owner.id, 0, testNow);
    return { '@code': codeAt(secret, testNow) };
  };

/** Parcels that have arrived: the colder, the more dead, so that a limit can be learnt. */
const withWinter = ({ db }: Walk) => {
  for (let at = 0; at < 20; at += 1) {
    const lowestC = 2 + at;
    const order = makeOrder(db, { state: 'sent', sentOn: testToday, customerId: 1 });
    const line = makeLine(db, order.id, 1);
    const taken = { orderLineId: line.id, cultureId: 1, groups: 1, animals: 14, madeAt: testNow };
    db.insert(allocations)
      .values({ ...taken, state: 'packed' })
      .run();
    const trip = { boxId: null, packId: null, hoursBelowSafe: 0, hoursAboveSafe: 0, transitHours: 30 };
    keepTrip(db, order.id, { ...trip, lowestC, highestC: 22 }, { personId: null, now: testNow });
    const dead = Math.max(0, 8 - at);
    const losses = dead > 0 ? [{ speciesId: 1, sent: 14, dead, missing: 0 }] : [];
    const linkId = ensureLink(db, order, { personId: cast.owner.id, now: testNow }).id;
    const formKey = `form-0123456789-${order.id}`;
    keepReport(db, { linkId, formKey, orderId: order.id, losses, note: '', photos: [], now: testNow });
  }
  return {};
};

/** As on the first day: nobody is an owner yet, and the link that was written on the console is good. */
const beforeSetUp = ({ db, sqlite }: Walk) => {
  sqlite.prepare("UPDATE people SET role = 'helper'").run();
  addLink(db, { token: 's'.repeat(43), purpose: 'set-up', now: testNow });
  return {};
};

const people: Record<string, Filled> = {
  '/set-up': {
    asNobody: true,
    isSlow: true,
    ready: beforeSetUp,
    fields: {
      token: 's'.repeat(43),
      name: 'Olga',
      signInName: 'olga',
      businessName: 'New Bench',
      country: 'DE',
      ...chosen,
    },
  },
  '/sign-in': {
    asNobody: true,
    isSlow: true,
    ready: (t) => givePassword(t, cast.helper.id).then(() => ({})),
    fields: { signInName: 'helper', password: goodPassword },
  },
  '/sign-in/code': {
    asNobody: true,
    ready(t) {
      const words = withCode(true)(t);
      beginHalf(t.db, 'half-a-sign-in', findPerson(t.db, cast.owner.id)!, testNow);
      return words;
    },
    fields: { token: 'half-a-sign-in', code: '@code' },
  },
  '/invitation': {
    asNobody: true,
    isSlow: true,
    fields: { token: 'w'.repeat(43), name: 'Pat', signInName: 'pat', ...chosen },
  },
  '/new-password': {
    asNobody: true,
    isSlow: true,
    ready({ db }) {
      addLink(db, { token: 'r'.repeat(43), purpose: 'reset', personId: cast.helper.id, now: testNow });
      return {};
    },
    fields: { token: 'r'.repeat(43), ...chosen },
  },
  '/account/password': {
    isSlow: true,
    ready: (t) => givePassword(t, cast.owner.id).then(() => ({})),
    fields: { current: goodPassword, ...chosen },
  },
  '/account/second-factor': {
    isSlow: true,
    ready: (t) => givePassword(t, cast.owner.id).then(() => withCode(false)(t)),
    fields: { code: '@code', password: goodPassword },
  },
  '/account/second-factor/codes': { ready: withCode(true), fields: { code: '@code' } },
  '/account/second-factor/stop': { ready: withCode(true), fields: { code: '@code' } },
  '/account/sessions/:id/end': {
    ready({ db, clock }) {
      const token = freshToken();
      makeSessions(db, clock).begin(cast.owner.id, 'another browser', token);
      return { '@session': sha256(token) };
    },
    to: '/account/sessions/@session/end',
  },
};

const cultures: Record<string, Filled> = {
  '/round/all-well': { fields: { codes: '@culture', did: 'yes' } },
  '/round/undo': { before: ['/round/all-well'], on: '/round' },
  '/cultures/:code/tally': { fields: { method: 'full', adults: '100', juveniles: '40', onDay: testToday } },
  '/cultures/:code/catches': { fields: { done: '60,30', caught: '15', go: 'done' } },
  '/cultures/:code/photo': {
    file: { field: 'photo', name: 'photo.jpg', bytes: () => sharp({ create: flat }).jpeg().toBuffer() },
  },
  '/cultures/:code/splits/:id/back': { before: ['/cultures/:code/split'], on: theCulture },
  '/cultures/:code/trace/undo': { before: ['/cultures/:code/trace/quarantine'], on: '/round' },
  '/cultures/:code/trace/quarantine': { fields: { chosen: '1', ...traced } },
  '/cultures/:code/trace/notices': {
    before: [placed, promised, packed, gone],
    on: `${theCulture}/trace/notices?what=mites&since=2026-01-10&seen=${testToday}&back=all`,
  },
  '/cultures/:code/contacts': { ready: withAnother, fields: { other: 'OTHER-1' } },
  '/cultures/:code/contacts/:id/withdraw': { before: ['/cultures/:code/contacts'], on: '/round' },
  '/cultures/:code/mixing': {
    ready: ({ db }) => ({ '@other': String(makeCounted(db, 1, 140, { code: 'OTHER-1' }).id) }),
    fields: { fromId: '@other', animals: '3', adults: '', juveniles: '', onDay: testToday },
  },
  '/surplus/count-next/undo': { before: ['/surplus/count-next'], on: '/surplus/count-next' },
  '/species': { like: '/species/:id/edit', fields: { scientificName: 'Exemplum novum', commonName: 'new' } },
  '/species/:id/care/again': { fields: { version: '1' } },
  '/places': { fields: { kind: 'room', parentId: '', names: 'Cellar' } },
  '/places/:id/edit': {
    ready: ({ db }) => ({
      '@room': String(insertPlace(db, { kind: 'room', name: 'Attic', parentId: null })),
    }),
    fields: { name: 'Shelf 5', parentId: '@room' },
  },
  '/records/drafts/:key/stock': {
    ready: withUpload,
    to: '/records/drafts/@draft/stock',
    fields: { version: '1', room: 'Cellar' },
  },
  '/records/drafts/:key/mapping': {
    ready: withUpload,
    on: '/records/drafts/@draft',
    file: {
      field: 'mapping',
      name: 'mapping.json',
      bytes: async (get) => Buffer.from(await get('/records/drafts/@draft/mapping.json')),
    },
  },
  '/records/drafts/:key/bring-in': { ready: withUpload, on: '/records/drafts/@draft' },
};

const atDepot = (rows: string) => Buffer.from(`place,day,low,high\nDepot,${rows}\n`);

const orders: Record<string, Filled> = {
  '/customers/:id/erase': { before: ['/orders/:number/cancel'], fields: { number: '1' } },
  '/orders/propose': {
    ready({ sqlite }) {
      sqlite.prepare('UPDATE orders SET dispatch_on = ? WHERE number = 1').run(testToday);
      return {};
    },
    fields: { day: testToday, 'groups-1-1': '1' },
  },
  '/orders/:number/release': { before: [placed], on: '/orders/1' },
  '/orders/:number/back': { before: [placed, promised, packed, gone] },
  // The bench has one already, which has to be taken back first.
  '/orders/:number/invoice': {
    before: [placed, promised, '/invoices/:id/credit'],
    on: '/orders/1/invoice',
  },
  '/orders/:number/arrival/told': { before: [placed, promised, packed, gone], fields: { all: 'well' } },
  '/parcels/orders/:number/choose': {
    ready({ db }) {
      readyToPack(db, { carrier: { name: 'Another Post' } });
      return {};
    },
    before: [placed, promised],
    on: '/parcels/orders/1',
  },
  '/parcels/orders/:number/hold': {
    before: [placed, promised],
    on: '/parcels/orders/1',
    fields: { until: '2026-11-27' },
  },
  '/parcels/arrivals/limit': { ready: withWinter, fields: { species: '1', side: 'low' } },
  '/parcels/arrivals/limit/back': {
    ready({ sqlite }) {
      const row = sqlite
        .prepare('SELECT safe_low_c AS safe, ideal_low_c AS ideal FROM species WHERE id = 1')
        .get();
      const { safe, ideal } = row as { safe: number; ideal: number };
      return { '@safe': String(safe), '@ideal': String(ideal) };
    },
    fields: { species: '1', side: 'low', was: '@ideal', is: '@safe' },
  },
  '/parcels/boxes/:id/measure': {
    file: {
      field: 'file',
      name: 'log.csv',
      bytes: () =>
        Buffer.from('hour,inside,outside\n0,40,20\n1,36.5,20\n2,33.6,20\n3,31.2,20\n4,29.2,20\n5,27.5,20\n'),
    },
  },
  '/parcels/weather/file': {
    fields: { source: 'the paper' },
    file: { field: 'file', name: 'sent.csv', bytes: () => atDepot('2026-11-26,1,6') },
  },
  '/parcels/weather/services/:service': { on: '/parcels/weather/services', fields: { isOn: 'yes' } },
  '/mails/:id/again': { before: ['/mails/:id/stop'] },
};

/** How forms are filled in that need something to have happened before, or somebody else to send them. */
export const withHistory: Record<string, Filled> = { ...people, ...cultures, ...orders };
