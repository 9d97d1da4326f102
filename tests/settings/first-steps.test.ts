import { describe, expect, it } from 'vitest';
import { allocations, cultures } from '../../server/schema/tables.ts';
import { firstSteps, nextStep } from '../../shared/settings/first-steps.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

const nothing = {
  species: false,
  enclosures: false,
  places: false,
  cultures: false,
  toCount: null,
  counted: false,
  toSplit: null,
  split: false,
  orders: false,
  toPack: null,
  packed: false,
};

describe('the first steps', () => {
  it('begin with the species, and say what cannot be done yet', () => {
    const steps = firstSteps(nothing);
    expect(nextStep(steps)).toBe('species');
    const possible = steps.filter((step) => step.possible).map(({ key }) => key);
    expect(possible).toEqual(['species', 'enclosures', 'places']);
  });

  it('count with species and enclosures two of eight, and then places and cultures are possible', () => {
    const steps = firstSteps({ ...nothing, species: true, enclosures: true });
    expect(steps.filter(({ done }) => done).map(({ key }) => key)).toEqual(['species', 'enclosures']);
    const open = steps.filter(({ done, possible }) => possible && !done).map(({ key }) => key);
    expect(open).toEqual(['places', 'cultures', 'order']);
  });

  it('are over when all is done, in whatever order', () => {
    const all = { ...nothing, species: true, enclosures: true, places: true, cultures: true };
    const steps = firstSteps({ ...all, counted: true, split: true, orders: true, packed: true });
    expect([steps.every(({ done }) => done), nextStep(steps)]).toEqual([true, null]);
  });
});

/** Where the list on the first page leads to, and what it says of its length. */
async function listed({ owner }: TestApp): Promise<{ next: string; done: string } | null> {
  const { text } = await owner.get('/round');
  const list = /<ol class="first-steps">.*?<\/ol>/s.exec(text)?.[0];
  if (!list) return null;
  const now = /aria-current="step".*?<a href="([^"]+)"/s.exec(list)?.[1] ?? '';
  return { next: now, done: /(\d+ of \d+ done)/.exec(text)?.[1] ?? '' };
}

async function send({ owner }: TestApp, path: string, fields: Record<string, string | number>) {
  const answer = await owner.post(path, fields);
  expect([path, answer.status, answer.status === 303 ? '' : answer.text]).toEqual([path, 303, '']);
  return String(answer.headers.location);
}

const today = '2026-11-25';

describe('the first hour', () => {
  it('leads from an empty page to the packing sheet, each step to the next', {
    timeout: 60_000,
  }, async () => {
    const t = await testApp();
    expect(await listed(t)).toEqual({ next: '/species', done: '0 of 8 done' });
    expect((await t.owner.get('/species')).text).toContain('action="/species/starter-set"');
    await send(t, '/species/starter-set', {});
    expect(await listed(t)).toEqual({ next: '/places', done: '2 of 8 done' });
    await send(t, '/places', { kind: 'room', names: 'Cellar' });
    expect(await listed(t)).toEqual({ next: '/cultures/new', done: '3 of 8 done' });
    const form = (await t.owner.get('/cultures/new')).text;
    const speciesId = /<option value="(\d+)">Porcellionides pruinosus/.exec(form)?.[1] ?? '';
    const enclosureId = /<option value="(\d+)">6 litre box/.exec(form)?.[1] ?? '';
    const begun = { speciesId, enclosureId, placeId: 1, foundedOn: '2026-06-01', origin: 'bought' };
    await send(t, '/cultures', { ...begun, foundingAnimals: 25, founding: 'exact' });
    const code = t.db.select({ code: cultures.code }).from(cultures).get()?.code ?? '';
    expect(await listed(t)).toEqual({ next: `/cultures/${code}/count`, done: '4 of 8 done' });
    await send(t, `/cultures/${code}/count`, { method: 'full', counted: 130, onDay: today });
    expect(await listed(t)).toEqual({ next: `/cultures/${code}/split`, done: '5 of 8 done' });
    const part = { adults: 8, juveniles: 10, sure: 'exact', enclosureId, placeId: 1, onDay: today };
    await send(t, `/cultures/${code}/split`, part);
    expect(await listed(t)).toEqual({ next: '/orders/new', done: '6 of 8 done' });
    const address = { street: '1 Example Lane', postcode: '10115', city: 'Exampletown', country: 'DE' };
    const papers = { language: 'en', units: 'metric', paper: 'A4' };
    await send(t, '/customers', { name: 'Ada Example', ...address, ...papers });
    const wanted = { 'species-0': speciesId, 'groups-0': 1, 'price-0': '12.50' };
    await send(t, '/orders', { customer: 1, ...wanted });
    expect(await listed(t)).toEqual({ next: '/orders/1', done: '7 of 8 done' });
    await send(t, '/orders/1/reserve', { 'groups-1-1': 1 });
    expect(t.db.select().from(allocations).all()).toHaveLength(1);
    await send(t, '/orders/1/confirm', {});
    const sheet = await t.owner.bytes('/orders/1/packing-sheet.pdf');
    expect([sheet.status, sheet.body.subarray(0, 5).toString()]).toEqual([200, '%PDF-']);
    expect((await t.owner.get('/orders/1')).text).toContain('href="/orders/1/packing-sheet.pdf"');
  });

  it('is shown to the owner alone, can be put away, and comes back', async () => {
    const t = await testApp();
    expect((await t.helper.get('/round')).text).not.toContain('first-steps');
    expect((await t.helper.post('/settings/first-steps', { list: 'away' })).status).toBe(403);
    expect(await send(t, '/settings/first-steps', { list: 'away' })).toBe('/round');
    const round = (await t.owner.get('/round')).text;
    expect(round).toContain('They stay under Settings');
    expect(round).not.toContain('class="first-steps"');
    expect((await t.owner.get('/settings')).text).toContain('href="/settings/first-steps"');
    expect((await t.owner.get('/settings/first-steps')).text).toContain('Show the list on the round again');
    await send(t, '/settings/first-steps', { list: 'back' });
    expect((await listed(t))?.done).toBe('0 of 8 done');
    expect((await t.owner.post('/settings/first-steps', { list: 'else' })).status).toBe(422);
  });
});
