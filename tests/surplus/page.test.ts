import { describe, expect, it } from 'vitest';
import { lines } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeEstimate, makeSpecies, makeStock } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

const codesIn = (html: string) =>
  [...html.matchAll(/<a class="code" href="\/cultures\/([^"]+)"/g)].map((m) => m[1]);

async function listed({ owner }: TestApp, query = '') {
  const { status, text } = await owner.get(`/surplus${query}`);
  expect(status, query).toBe(200);
  return codesIn(text);
}

/** Two species, and cultures that differ in all that can be filtered and sorted by. */
async function stocked() {
  const app = await testApp();
  const album = makeSpecies(app.db, { scientificName: 'Album exemplum' });
  const brown = makeSpecies(app.db, { scientificName: 'Brunneum exemplum' });
  const line = app.db
    .insert(lines)
    .values({ speciesId: album.id, name: 'Coastal', locality: '', note: '' })
    .returning()
    .get();
  makeStock(
    app.db,
    album.id,
    { spareGroups: 1, median: 120, fullnessMedian: 0.5, lastCountOn: '2026-11-20' },
    { code: 'AL-1', lineId: line.id },
  );
  makeStock(
    app.db,
    album.id,
    { spareGroups: 3, median: 200, fullnessMedian: 0.9, lastCountOn: '2026-09-01' },
    { code: 'AL-2', morph: 'orange' },
  );
  makeStock(
    app.db,
    album.id,
    {
      spareGroups: 0,
      spareAnimals: 3,
      median: 80,
      fullnessMedian: 0.4,
      readyOn: '2026-12-09',
      limitedBy: 'reserve',
      lastCountOn: null,
    },
    { code: 'AL-3' },
  );
  makeStock(
    app.db,
    album.id,
    { spareGroups: 0, spareAnimals: 0, median: 150, health: 'mites', limitedBy: 'health', readyOn: null },
    { code: 'AL-4' },
  );
  makeStock(app.db, brown.id, { spareGroups: 2 }, { code: 'BR-1' });
  makeStock(app.db, brown.id, { spareGroups: 9 }, { code: 'BR-GONE', status: 'retired' });
  const kept = makeSpecies(app.db, { scientificName: 'Cultum exemplum', sellable: false });
  makeStock(app.db, kept.id, {}, { code: 'CU-1' });
  return { app, album, brown };
}

describe('the surplus page', () => {
  it('is for whoever is signed in, and says what to do first where there is nothing', async () => {
    const app = await testApp();
    expect((await app.outsider.get('/surplus')).headers.location).toBe('/sign-in?next=%2Fsurplus');
    const { status, text } = await app.helper.get('/surplus');
    expect([status, text.includes('Nothing to sell from yet.')]).toEqual([200, true]);
    expect((await app.owner.post('/surplus')).status).toBe(404);
  });

  it('groups by species with totals, and leaves out what is not sold', async () => {
    const { app } = await stocked();
    const { text } = await app.owner.get('/surplus');
    const sections = text.split('class="species-group"').slice(1);
    expect(sections.map(codesIn)).toEqual([['AL-2', 'AL-1', 'AL-3', 'AL-4'], ['BR-1']]);
    expect(sections[0]).toContain('4 groups now');
    expect(sections[1]).toContain('2 groups now');
    expect(text).toContain('6 starter groups spare today from 5 cultures');
  });

  it('says of each what limits it, its doubt, its age and its health', async () => {
    const { app } = await stocked();
    const { text } = await app.owner.get('/surplus');
    expect(text).toContain('none: the reserve must stay');
    expect(text).toContain('none: held for its health');
    expect(text).toContain('mites seen');
    expect(text).toContain('9 Dec 2026');
    expect(text).toContain('counted 12 weeks ago');
    expect(text).toContain('>never<');
    expect(text).toMatch(/about <span class="estimate-middle">120<\/span>/);
  });

  it('filters on the server', async () => {
    const { app, brown } = await stocked();
    expect(await listed(app, `?species=${brown.id}`)).toEqual(['BR-1']);
    expect(await listed(app, '?q=coast')).toEqual(['AL-1']);
    expect(await listed(app, '?q=ORANGE')).toEqual(['AL-2']);
    expect(await listed(app, '?q=al-3')).toEqual(['AL-3']);
    expect(await listed(app, '?q=%25')).toEqual([]);
    expect(await listed(app, '?show=spare')).toEqual(['AL-2', 'AL-1', 'BR-1']);
    expect(await listed(app, '?show=soon')).toEqual(['AL-3']);
    expect(await listed(app, '?show=held')).toEqual(['AL-4']);
    expect(await listed(app, '?show=stale')).toEqual(['AL-2', 'AL-3']);
    expect((await app.owner.get('/surplus?q=nothing-like-it')).text).toContain(
      'No culture fits these filters.',
    );
  });

  it('shows the first of a species that has many, and all of them page by page', async () => {
    const app = await testApp();
    const species = makeSpecies(app.db);
    for (let n = 101; n <= 230; n += 1) makeCulture(app.db, { speciesId: species.id, code: `M-${n}` });
    const { text } = await app.owner.get('/surplus');
    expect(text).toContain('from 130 cultures');
    expect(await listed(app, '')).toHaveLength(25);
    expect(text).toContain('The first 25 are shown.');
    expect(text).toContain(`href="/surplus?species=${species.id}"`);
    expect(await listed(app, `?species=${species.id}`)).toHaveLength(100);
    const second = await listed(app, `?species=${species.id}&page=2`);
    expect([second.length, second[0], second.at(-1)]).toEqual([30, 'M-201', 'M-230']);
  });

  it('shows fewer of each where there are many species', async () => {
    const app = await testApp();
    for (let n = 0; n < 20; n += 1) {
      const speciesId = makeSpecies(app.db, {
        scientificName: `Porcellio exemplaris ${'abcdefghijklmnopqrst'[n]}`,
      }).id;
      for (let m = 0; m < 12; m += 1) makeCulture(app.db, { speciesId, code: `N${n}-${m}` });
    }
    const { text } = await app.owner.get('/surplus');
    expect(text).toContain('from 240 cultures');
    expect(text).toContain('The first 10 are shown.');
    expect(await listed(app, '')).toHaveLength(200);
  });

  it('sorts within the species, on the server', async () => {
    const { app } = await stocked();
    const album = async (sort: string) => (await listed(app, `?sort=${sort}`)).slice(0, 4).join(' ');
    expect(await album('animals')).toBe('AL-2 AL-4 AL-1 AL-3');
    expect(await album('fullness')).toMatch(/^AL-2 AL-4 AL-1 AL-3$/);
    expect(await album('count')).toMatch(/^AL-3 AL-2/);
    expect(await album('ready')).toMatch(/^AL-3/);
    expect(await album('code')).toBe('AL-1 AL-2 AL-3 AL-4');
    for (const odd of ['?sort=drop', '?show=x', '?species=x', "?q=' OR 1=1 --"]) await listed(app, odd);
  });

  it('leads from a row to its count and split, and the owner to an order', async () => {
    const { app } = await stocked();
    const { text } = await app.owner.get('/surplus');
    for (const link of ['/cultures/AL-1/count', '/cultures/AL-1/split', '/orders/new?culture=AL-1'])
      expect(text).toContain(`href="${link}"`);
    expect(text).not.toContain('/orders/new?culture=AL-4');
    expect((await app.helper.get('/surplus')).text).not.toContain('/orders/new');
  });

  it('shows what is promised, and a culture whose diary contradicts itself', async () => {
    const { app, album } = await stocked();
    const culture = makeCulture(app.db, { code: 'AL-9', speciesId: album.id });
    makeEstimate(app.db, culture.id, {
      fault: 'The diary contradicts itself on 2026-11-01: so many',
      median: null,
      lower: null,
      upper: null,
      fullnessMedian: null,
      capacityMedian: null,
      reserve: null,
      spareGroups: 0,
      spareAnimals: 0,
      promisable: 0,
      readyOn: null,
      limitedBy: null,
    });
    const order = makeOrder(app.db, { state: 'confirmed' });
    const line = makeLine(app.db, order.id, album.id);
    app.sqlite.exec(`INSERT INTO allocations (order_line_id, culture_id, groups, animals, state, made_at)
      SELECT ${line.id}, id, 1, 14, 'reserved', 1 FROM cultures WHERE code = 'AL-2'`);
    const { text } = await app.owner.get('/surplus');
    expect(text).toMatch(/data-label="Promised">14</);
    expect(text).toContain('The diary contradicts itself on 2026-11-01');
  });

  it('follows a count at once', async () => {
    const app = await testApp();
    const { code } = makeCounted(app.db, 60, { onDay: '2026-06-01' });
    const spare = async () =>
      /class="verdict">(?:<[^>]+>)?(\d+) starter/.exec((await app.owner.get('/surplus')).text)?.[1];
    const before = Number(await spare());
    await app.helper.post(`/cultures/${code}/count`, { method: 'full', counted: '170' });
    expect(Number(await spare())).toBeGreaterThan(before);
  });
});
