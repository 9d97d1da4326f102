import { insertAmends } from '../../server/arrivals/queries-amends.ts';
import { addressOfOrder, ensureLink } from '../../server/arrivals/queries-links.ts';
import { keepReport } from '../../server/arrivals/queries-reports.ts';
import { saveStages } from '../../server/development/queries.ts';
import { insertCup } from '../../server/documents/queries-packing.ts';
import { saveFeeder } from '../../server/feeders/queries.ts';
import { addMail } from '../../server/mails/queries.ts';
import { addLink } from '../../server/people/queries-links.ts';
import type { Address } from '../../server/plumbing/access.ts';
import type { Keeper } from '../../server/plumbing/backups.ts';
import { sha256 } from '../../server/plumbing/sessions.ts';
import { insertUpload } from '../../server/records/queries-drafts.ts';
import * as tables from '../../server/schema/tables.ts';
import { insertVersion, noWords } from '../../server/species/queries-care.ts';
import { plainSheet } from '../../shared/labels/sheet.ts';
import { makeCounted } from './counted-stock.ts';
import { makeInvoice } from './invoices.ts';
import { makeRule } from './movement.ts';
import { furnishOffers } from './offers.ts';
import { makeLine, makeMail, makeOrder } from './orders.ts';
import { furnishParcels } from './parcel-stock.ts';
import { makeSpecies } from './stock.ts';
import { cast, type TestApp, testApp, testNow } from './test-app.ts';

const cupSize = { lengthMm: 90, widthMm: 90, heightMm: 60 };

/**
 * A bench with one of everything, so that every address can be walked: each of its rows has the number 1 where it has
 * a number. A new kind of address needs a line in `names` only when its parameter is not such a number.
 */
export async function furnishedBench(
  env: NodeJS.ProcessEnv = {},
  keeper: Keeper | null = null,
): Promise<Walk> {
  const t = await testApp(env, keeper);
  const species = makeSpecies(t.db);
  const culture = makeCounted(t.db, species.id, 140);
  insertVersion(t.db, species.id, 'de', noWords(), { personId: cast.owner.id, at: testNow });
  const order = makeOrder(t.db);
  makeLine(t.db, order.id, species.id);
  addMail(t.db, makeMail({ orderId: order.id }));
  t.db.insert(tables.lines).values({ speciesId: species.id, name: 'dusk', locality: '', note: '' }).run();
  const key = addLink(t.db, {
    token: 'w'.repeat(43),
    purpose: 'invitation',
    name: 'Pat',
    role: 'helper',
    now: testNow,
  });
  const file = {
    name: 'diary.csv',
    bytes: new TextEncoder().encode('Date,Culture,What\n2026-02-30,EX-0,check\n'),
  };
  const upload = insertUpload(t.db, [file], {}, { personId: cast.owner.id, now: testNow });
  t.db
    .insert(tables.imports)
    .values({
      kind: 'diary',
      fileName: 'diary.csv',
      state: 'done',
      mapping: '{}',
      broughtIn: 0,
      alreadyThere: 0,
      leftOut: '{"labels":["Date"],"rows":[]}',
      madeAt: testNow,
    })
    .run();
  t.db
    .insert(tables.labelSheets)
    .values({ ...plainSheet('A4'), name: 'Small', cutLines: true, nextLabel: 1 })
    .run();
  const placeId = culture.placeId ?? 1;
  const sensor = { placeId, name: 'Window', tokenHash: '0'.repeat(64), madeAt: testNow };
  t.db.insert(tables.climateSensors).values(sensor).run();
  const reading = { placeId, at: testNow, onDay: '2026-11-25', tempC: 21, madeAt: testNow };
  t.db
    .insert(tables.climateReadings)
    .values({ ...reading, via: 'page' })
    .run();
  const { id: photoId } = t.db
    .insert(tables.countPhotos)
    .values({
      cultureId: culture.id,
      widthPx: 640,
      heightPx: 480,
      sha256: '0'.repeat(64),
      taps: '[]',
      madeBy: cast.helper.id,
      madeAt: testNow,
    })
    .returning()
    .get();
  t.db
    .insert(tables.countPhotoFiles)
    .values({ photoId, bytes: Buffer.from([0xff, 0xd8]) })
    .run();
  const calendar = 'c'.repeat(43);
  const feed = { personId: cast.helper.id, tokenHash: sha256(calendar), madeAt: testNow, usedAt: testNow };
  t.db.insert(tables.calendarFeeds).values(feed).run();
  const { id: linkId } = ensureLink(t.db, order, { personId: cast.owner.id, now: testNow });
  const arrival = { orderId: order.id, linkId, formKey: 'form-0123456789ab', note: '', now: testNow };
  const picture = { bytes: Buffer.from([0xff, 0xd8]), widthPx: 640, heightPx: 480, sha256: '0'.repeat(64) };
  keepReport(t.db, { ...arrival, losses: [], photos: [picture] });
  const amends = { orderId: order.id, amountMinor: 100, newOrderId: null, reason: 'one dead', madeBy: null };
  insertAmends(t.db, { ...amends, kind: 'refund', madeAt: testNow });
  furnishParcels(t.db);
  insertCup(t.db, { ...cupSize, name: 'Round cup', emptyMassG: 8, note: '' }, testNow);
  makeInvoice(t.db, order.id);
  makeRule(t.db, { effect: 'warn' });
  furnishOffers(t.db, species.id);
  const flies = makeSpecies(t.db, { animalGroup: 'fly', sellable: false });
  const brief = { leadDays: 7, productiveDays: 14, yield: 100, seedAdults: 0, safety: 1 };
  saveFeeder(t.db, { speciesId: flies.id, ...brief }, new Map([[species.id, 60]]));
  const page = addressOfOrder(t.db, order.id, { base: '', now: testNow })?.slice('/o/'.length) ?? '';
  const stage = {
    stage: 'hatch',
    coolC: 18,
    coolDays: 19,
    warmC: 25,
    warmDays: 8.5,
    source: 'own notes',
  } as const;
  saveStages(t.db, species.id, [{ speciesId: species.id, ...stage }]);
  const names: Record<string, string> = {
    '/c/:code': culture.code,
    '/cups/groups/:group': 'isopod',
    '/calendar/:token.ics': `${calendar}.ics`,
    '/cultures/:code': culture.code,
    '/o/:token': page,
    '/people/:id': cast.helper.id,
    '/people/invitations/:key': key,
    '/records/drafts/:key': upload,
    '/records/drafts/:key/files/:number/rows/:line': '2',
    '/records/export/:file': 'cultures.csv',
    '/round/starts/:id': String(flies.id),
    '/workings/:name': 'surplus',
    '/static/*': 'base.css',
  };
  return { ...t, at: (address) => filled(address, names) };
}

export type Walk = TestApp & {
  /** The address of something that is there. */
  at: (address: Pick<Address, 'path'>) => string;
};

function filled({ path }: Pick<Address, 'path'>, names: Record<string, string>): string {
  let done = '';
  let pattern = '';
  for (const part of path.split('/').slice(1)) {
    pattern += `/${part}`;
    const isOpen = part.startsWith(':') || part === '*';
    const [extension = ''] = /\.\w+$/.exec(part) ?? [];
    done += `/${isOpen ? (names[pattern] ?? `1${extension}`) : part}`;
  }
  return done;
}

export const gets = ({ app }: TestApp) => app.surface.filter(({ method }) => method === 'GET');
export const posts = ({ app }: TestApp) =>
  app.surface.filter(({ method, ownToken }) => method === 'POST' && !ownToken);
