import { describe, expect, it } from 'vitest';
import { readEstimate } from '../../server/counts/queries-estimate.ts';
import { cultures, diary } from '../../server/schema/tables.ts';
import { writtenKinds } from '../../shared/cultures/diary-form.ts';
import { makeCounted } from '../support/counted.ts';
import { behavesLikeAFormPage } from '../support/form-page.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { rebuiltOf, storedOf } from '../support/rebuild.ts';
import { makeCulture, makePlace } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

const path = (code: string) => `/cultures/${code}/write`;
const entries = ({ db }: TestApp) => db.select().from(diary).all();
const last = (app: TestApp) => entries(app).at(-1);
const cultureOf = ({ db }: TestApp, id: number) =>
  db
    .select()
    .from(cultures)
    .all()
    .find((c) => c.id === id)!;

describe('the page of entries', () => {
  behavesLikeAFormPage({
    path,
    shownAt: (code) => `${path(code)}?kind=feed`,
    good: { kind: 'feed', food: 'leaf litter', onDay: testToday },
    bad: { kind: 'feed', food: '', note: '<script>alert(1)</script>' },
    says: 'Say what they got.',
    keeps: ['&lt;script>alert(1)&lt;/script>'],
  });

  it('offers every kind, and into or out of quarantine as it stands', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const offered = async () => {
      const { text } = await app.helper.get(path(code));
      return writtenKinds.filter((kind) => text.includes(`href="${path(code)}?kind=${kind}"`));
    };
    expect(await offered()).toEqual(writtenKinds.filter((kind) => kind !== 'release'));
    await app.helper.post(path(code), { kind: 'quarantine', note: 'specks' });
    expect(await offered()).toEqual(writtenKinds.filter((kind) => kind !== 'quarantine'));
    for (const kind of writtenKinds)
      expect((await app.helper.get(`${path(code)}?kind=${kind}`)).status).toBe(200);
    expect((await app.helper.get(`${path(code)}?kind=nonsense`)).status).toBe(200);
    expect((await app.helper.post(path(code), { kind: 'nonsense' })).status).toBe(422);
  });
});

describe('what was done', () => {
  it('is written with its numbers, and offered again the next time', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    await app.helper.post(path(code), { kind: 'feed', food: 'fish flake' });
    expect(last(app)).toMatchObject({
      kind: 'feed',
      food: 'fish flake',
      onDay: testToday,
      madeBy: 'person-helper',
    });
    await app.helper.post(path(code), { kind: 'water', amount: '0,25', amountUnit: 'l' });
    expect(last(app)).toMatchObject({ kind: 'water', waterMl: 250 });
    expect((await app.helper.get(`${path(code)}?kind=feed`)).text).toContain('value="fish flake"');
    expect((await app.helper.get(`${path(code)}?kind=water`)).text).toContain('value="250"');
    for (const kind of ['fruit-in', 'fruit-out']) {
      await app.helper.post(path(code), { kind, note: 'cucumber' });
      expect(last(app)).toMatchObject({ kind, note: 'cucumber' });
    }
    expect((await app.helper.post(path(code), { kind: 'note', note: '' })).status).toBe(422);
  });

  it('takes no numbers that cannot be', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    for (const fields of [
      { kind: 'water', amount: '0' },
      { kind: 'water', amount: '-5' },
      { kind: 'water', amount: '1e6' },
      { kind: 'water', amount: '5', amountUnit: 'bucket' },
      { kind: 'feed', food: 'x'.repeat(81) },
      { kind: 'die-off', lost: '0' },
      { kind: 'die-off', lost: '101' },
      { kind: 'harvest', animals: '0', note: 'sold' },
      { kind: 'harvest', animals: '3' },
      { kind: 'harvest', animals: '3', adults: '3', juveniles: '1', note: 'sold' },
      { kind: 'addition' },
      { kind: 'addition', animals: '5', fromId: '999' },
      { kind: 'move' },
      { kind: 'move', placeId: '999' },
      { kind: 'quarantine' },
      { kind: 'release' },
      { kind: 'retirement' },
      { kind: 'retirement', why: 'other' },
      { kind: 'note', note: 'x'.repeat(3600) },
    ] as Record<string, string>[])
      expect((await app.owner.post(path(code), fields)).status, JSON.stringify(fields)).toBe(422);
    expect(entries(app)).toHaveLength(0);
  });

  it('escapes a script wherever it was typed', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const script = '<script>alert(1)</script>';
    await app.helper.post(path(code), { kind: 'note', note: script });
    await app.helper.post(path(code), { kind: 'feed', food: script });
    for (const page of [
      `/cultures/${code}`,
      `${path(code)}?kind=feed`,
      `/cultures/${code}/check`,
      '/round',
    ]) {
      const { text } = await app.helper.get(page);
      expect(text.includes('<script>alert'), page).toBe(false);
    }
    expect((await app.helper.get(`/cultures/${code}`)).text).toContain('&lt;script>alert(1)&lt;/script>');
  });

  it('can be undone from the notice', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    await app.helper.post(path(code), { kind: 'feed', food: 'fish flake' });
    const { text } = await app.helper.get(`/cultures/${code}`);
    const action = /action="([^"]*\/withdraw)"/.exec(text)?.[1] ?? '';
    expect(action).toBe(`/cultures/${code}/diary/${last(app)?.id}/withdraw`);
    const key = { formKey: 'the-same-form-key-01' };
    const first = await app.helper.post(action, {}, key);
    const again = await app.helper.post(action, {}, key);
    expect([again.status, again.headers.location]).toEqual([303, first.headers.location]);
    expect(entries(app)).toHaveLength(2);
    expect(last(app)).toMatchObject({ withdrawn: true, food: 'fish flake' });
    expect((await app.helper.get(`/cultures/${code}`)).text).toContain('taken out');
  });
});

describe('animals that come and go', () => {
  it('are reckoned exactly', async () => {
    const app = await testApp();
    const { id, code } = makeCounted(app.db, 140);
    const before = readEstimate(app.db, id)!.median!;
    await app.helper.post(path(code), {
      kind: 'harvest',
      adults: '6',
      juveniles: '4',
      note: 'food for mantids',
    });
    expect(last(app)).toMatchObject({
      kind: 'harvest',
      animals: 10,
      adults: 6,
      juveniles: 4,
      otherCultureId: null,
    });
    expect(before - readEstimate(app.db, id)!.median!).toBeCloseTo(10, 0);
    await app.helper.post(path(code), { kind: 'addition', animals: '25', note: 'from a swap' });
    expect(last(app)).toMatchObject({ kind: 'addition', animals: 25, adults: null, juveniles: null });
    expect(readEstimate(app.db, id)!.median! - before).toBeCloseTo(15, 0);
    expect((await app.helper.get(`/cultures/${code}`)).text).toMatch(/put in: written down. Now about 1\d\d/);
    expect(rebuiltOf(app.db, id)).toEqual(storedOf(app.db, id));
  });

  it('cannot be more than were there, nor be taken below the reserve but by the owner with a reason', async () => {
    const app = await testApp();
    const { code } = makeCounted(app.db, 140);
    const harvest = (animals: string) => ({ kind: 'harvest', animals, note: 'sold' });
    const absurd = await app.owner.post(path(code), { ...harvest('400'), despite: 'reserve', reason: 'yes' });
    expect(absurd.status).toBe(422);
    expect(absurd.text).toContain('animals can have been there that day');
    const many = { ...harvest('100'), despite: 'reserve', reason: 'closing this line' };
    expect((await app.helper.post(path(code), many)).status).toBe(422);
    expect((await app.owner.post(path(code), { ...many, reason: '' })).text).toContain(
      'Say why in a few words.',
    );
    expect(entries(app)).toHaveLength(1);
    expect((await app.owner.post(path(code), many)).status).toBe(303);
    expect(last(app)?.note).toBe('sold\nAlthough what stays may fall below the reserve: closing this line');
  });

  it('stand in both diaries when they go from one culture to another, or in none', async () => {
    const app = await testApp();
    const to = makeCounted(app.db, 40);
    const from = makeCounted(app.db, 140, { speciesId: to.speciesId });
    const stranger = makeCounted(app.db, 140);
    const form = { kind: 'addition', animals: '12', fromId: String(from.id), note: 'fresh blood' };
    for (const fromId of [stranger.id, to.id])
      expect((await app.owner.post(path(to.code), { ...form, fromId })).status).toBe(422);
    const medians = () => [from, to].map((c) => readEstimate(app.db, c.id)!.median!);
    const before = medians();
    app.sqlite.exec(`CREATE TRIGGER broken BEFORE INSERT ON diary WHEN NEW.kind = 'addition' BEGIN
      SELECT RAISE(ABORT, 'the disk is gone'); END`);
    expect((await app.helper.post(path(to.code), form)).status).toBe(500);
    app.sqlite.exec('DROP TRIGGER broken');
    expect(entries(app)).toHaveLength(3);
    expect(medians()).toEqual(before);
    expect((await app.helper.post(path(to.code), form)).status).toBe(303);
    expect(entries(app).slice(-2)).toMatchObject([
      { cultureId: from.id, kind: 'harvest', animals: 12, otherCultureId: to.id },
      { cultureId: to.id, kind: 'addition', animals: 12, otherCultureId: from.id },
    ]);
    const [left, grown] = medians();
    expect(before[0]! - left!).toBeCloseTo(12, 0);
    expect(grown! - before[1]!).toBeCloseTo(12, 0);
    const tooMany = { ...form, animals: '500' };
    expect((await app.owner.post(path(to.code), tooMany)).text).toContain(
      'animals can have been there that day',
    );
  });

  it('are corrected and taken out in both diaries', async () => {
    const app = await testApp();
    const to = makeCounted(app.db, 40);
    const from = makeCounted(app.db, 140, { speciesId: to.speciesId });
    await app.helper.post(path(to.code), {
      kind: 'addition',
      animals: '12',
      fromId: String(from.id),
      note: '',
    });
    const at = (c: typeof to, id: number) => `/cultures/${c.code}/diary/${id}`;
    const [taken] = entries(app).slice(-2);
    expect((await app.helper.get(at(from, taken!.id))).text).toContain(
      'The other half stands in the diary of',
    );
    const mended = { onDay: '2026-11-24', number: '10', note: 'counted again' };
    expect((await app.helper.post(at(from, taken!.id), mended)).status).toBe(303);
    expect(entries(app).slice(-2)).toMatchObject([
      { cultureId: from.id, animals: 10, onDay: '2026-11-24', note: 'counted again' },
      { cultureId: to.id, animals: 10, onDay: '2026-11-24', note: '' },
    ]);
    for (const { id } of [from, to]) expect(rebuiltOf(app.db, id)).toEqual(storedOf(app.db, id));
    const [, given] = entries(app).slice(-2);
    await app.helper.post(`${at(to, given!.id)}/withdraw`);
    expect(
      entries(app)
        .slice(-2)
        .map((e) => [e.cultureId, e.withdrawn]),
    ).toEqual([
      [to.id, true],
      [from.id, true],
    ]);
    for (const { id } of [from, to]) expect(rebuiltOf(app.db, id)).toEqual(storedOf(app.db, id));
  });

  it('die off by a share, and nothing is sold until they are counted', async () => {
    const app = await testApp();
    const { id, code } = makeCounted(app.db, 140);
    const before = readEstimate(app.db, id)!;
    expect(before.spareGroups).toBeGreaterThan(0);
    await app.helper.post(path(code), { kind: 'die-off', lost: '50', note: 'dried out' });
    expect(last(app)).toMatchObject({ kind: 'die-off', survivalMedian: 0.5 });
    const after = readEstimate(app.db, id)!;
    expect(after.median! / before.median!).toBeCloseTo(0.5, 1);
    expect(after).toMatchObject({ health: 'die-off', spareGroups: 0, spareAnimals: 0, limitedBy: 'health' });
    await app.helper.post(`/cultures/${code}/count`, { method: 'full', counted: '70' });
    expect(readEstimate(app.db, id)?.health).toBe('well');
  });
});

describe('health and standing', () => {
  it('mites keep a culture from sale until a check is clear of them', async () => {
    const app = await testApp();
    const { id, code } = makeCounted(app.db, 140);
    const spare = readEstimate(app.db, id)!.spareGroups;
    await app.helper.post(path(code), { kind: 'mites', note: 'on the lid', onDay: '2026-11-24' });
    const held = { health: 'mites', spareGroups: 0, promisable: 0, limitedBy: 'health', readyOn: null };
    expect(readEstimate(app.db, id)).toMatchObject(held);
    await app.helper.post(`/cultures/${code}/check`, { mitesSeen: 'yes' });
    expect(readEstimate(app.db, id)).toMatchObject(held);
    app.clock.forward(1);
    await app.helper.post(`/cultures/${code}/check`, { mouldSeen: 'yes' });
    expect(readEstimate(app.db, id)).toMatchObject({ health: 'mould', spareGroups: spare });
    await app.helper.post(`/cultures/${code}/check`, { mitesSeen: 'yes' });
    expect(readEstimate(app.db, id)?.health).toBe('mites');
    app.clock.forward(1);
    await app.helper.post(`/cultures/${code}/all-well`);
    expect(readEstimate(app.db, id)).toMatchObject({ health: 'well', spareGroups: spare });
  });

  it('mites can be written with a quarantine in one go', async () => {
    const app = await testApp();
    const { id, code } = makeCulture(app.db);
    await app.helper.post(path(code), { kind: 'mites', quarantineToo: 'yes' });
    expect(entries(app).map((e) => e.kind)).toEqual(['mites', 'quarantine']);
    expect(cultureOf(app, id).status).toBe('quarantine');
    const { text } = await app.helper.get(`/cultures/${code}`);
    expect(text).toContain('name="whole" value="yes"');
    await app.helper.post(`/cultures/${code}/diary/${entries(app)[0]!.id}/withdraw`, { whole: 'yes' });
    expect(cultureOf(app, id).status).toBe('active');
    expect(readEstimate(app.db, id)?.health).toBe('well');
  });

  it('a quarantine takes everything from sale, and its end brings it back', async () => {
    const app = await testApp();
    const { id, code } = makeCounted(app.db, 140);
    const before = storedOf(app.db, id).estimate;
    await app.helper.post(path(code), { kind: 'quarantine', note: 'white specks' });
    expect(cultureOf(app, id).status).toBe('quarantine');
    expect(readEstimate(app.db, id)).toMatchObject({ health: 'quarantine', spareAnimals: 0, spareGroups: 0 });
    expect((await app.helper.post(path(code), { kind: 'quarantine', note: 'again' })).status).toBe(422);
    await app.helper.post(path(code), { kind: 'release', note: 'it was sand' });
    expect(cultureOf(app, id).status).toBe('active');
    expect(storedOf(app.db, id).estimate).toEqual(before);
  });

  it('a move is followed, and taking it out brings the culture back to where it stood', async () => {
    const app = await testApp();
    const { id, code, placeId, foundedOn } = makeCulture(app.db);
    const place = makePlace(app.db, { name: 'Far shelf' });
    await app.helper.post(path(code), { kind: 'move', placeId: String(place.id) });
    expect(cultureOf(app, id).placeId).toBe(place.id);
    expect(entries(app).map((e) => [e.onDay, e.placeId])).toEqual([
      [foundedOn, placeId],
      [testToday, place.id],
    ]);
    await app.helper.post(`/cultures/${code}/diary/${last(app)?.id}/withdraw`);
    expect(cultureOf(app, id).placeId).toBe(placeId);
  });

  it('a retired culture is left alone, but not while its animals are promised', async () => {
    const app = await testApp();
    const { id, code, speciesId } = makeCounted(app.db, 140);
    const order = makeOrder(app.db, { state: 'confirmed', number: 17 });
    const line = makeLine(app.db, order.id, speciesId);
    app.sqlite.exec(`INSERT INTO allocations (order_line_id, culture_id, groups, animals, state, made_at)
      VALUES (${line.id}, ${id}, 1, 14, 'reserved', 1)`);
    const retire = { kind: 'retirement', why: 'given-away', note: 'to a school' };
    const blocked = await app.owner.post(path(code), retire);
    expect(blocked.status).toBe(422);
    expect(blocked.text).toContain('are promised to order 17');
    const held = await app.helper.post(path(code), { kind: 'quarantine', note: 'specks' });
    expect(held.status).toBe(303);
    expect((await app.helper.get(`/cultures/${code}`)).text).toContain(
      'promised to order 17: choose others there',
    );
    app.sqlite.exec("UPDATE allocations SET state = 'released'");
    expect((await app.helper.post(path(code), retire)).status).toBe(303);
    expect(last(app)?.note).toBe('Given away or sold whole. to a school');
    expect(cultureOf(app, id).status).toBe('retired');
    for (const page of ['write', 'count', 'split'])
      expect((await app.helper.get(`/cultures/${code}/${page}`)).status, page).toBe(409);
    expect((await app.helper.post(`/cultures/${code}/check`, {})).status).toBe(409);
    expect((await app.helper.post(`/cultures/${code}/all-well`, {})).status).toBe(409);
    await app.helper.post(`/cultures/${code}/diary/${last(app)?.id}/withdraw`);
    expect(cultureOf(app, id).status).toBe('quarantine');
  });
});
