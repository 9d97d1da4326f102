import { describe, expect, it } from 'vitest';
import { readEstimate } from '../../server/counts/queries-estimate.ts';
import { diary, populationStates } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { makeCounted } from '../support/counted.ts';
import { rebuiltOf, storedOf } from '../support/rebuild.ts';
import { makeCulture } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

const entries = ({ db }: TestApp) => db.select().from(diary).all();
const at = (code: string, id: number) => `/cultures/${code}/diary/${id}`;
const seen = (counted: number, onDay: string) => ({ method: 'visible', counted: String(counted), onDay });

/** A culture with a long past: twelve visible counts, some harvests, an addition and a die-off. */
async function longPast(app: TestApp) {
  const culture = makeCulture(app.db);
  for (let week = 40; week >= 4; week -= 4)
    await app.helper.post(
      `/cultures/${culture.code}/count`,
      seen(20 + ((week * 7) % 11), addDays(testToday, -7 * week)),
    );
  const write = (fields: Record<string, string>) => app.owner.post(`/cultures/${culture.code}/write`, fields);
  await write({ kind: 'addition', animals: '20', onDay: addDays(testToday, -120) });
  await write({ kind: 'harvest', animals: '8', note: 'sold', onDay: addDays(testToday, -90) });
  await write({ kind: 'die-off', lost: '30', onDay: addDays(testToday, -60) });
  await app.helper.post(`/cultures/${culture.code}/count`, seen(24, testToday));
  return culture;
}

describe('a long diary', () => {
  it('keeps few states, and says the same as a rebuild after entries anywhere in the past', async () => {
    const app = await testApp();
    const { id } = await longPast(app);
    expect(entries(app).length).toBeGreaterThan(13);
    const stored = storedOf(app.db, id);
    expect(readEstimate(app.db, id)?.fault).toBeNull();
    expect(app.db.select().from(populationStates).all().length).toBeLessThan(8);
    expect(rebuiltOf(app.db, id)).toEqual(stored);
  });

  it('replays from where a correction stands, on either day', async () => {
    const app = await testApp();
    const { id, code } = await longPast(app);
    const before = storedOf(app.db, id);
    const counts = entries(app).filter((e) => e.kind === 'count');
    for (const [entry, mended] of [
      [counts[1]!, { onDay: counts[1]!.onDay, number: '33', note: 'miscounted' }],
      [counts[7]!, { onDay: addDays(counts[7]!.onDay, -100), number: '15', note: 'wrong day too' }],
      [counts[3]!, { onDay: addDays(counts[3]!.onDay, 50), number: '22', note: '' }],
    ] as const) {
      expect((await app.helper.post(at(code, entry.id), mended)).status).toBe(303);
      const stored = storedOf(app.db, id);
      expect(rebuiltOf(app.db, id)).toEqual(stored);
    }
    expect(storedOf(app.db, id)).not.toEqual(before);
  });

  it('replays when an entry is taken out', async () => {
    const app = await testApp();
    const { id, code } = await longPast(app);
    const gone = entries(app).filter((e) => ['die-off', 'addition'].includes(e.kind));
    for (const entry of gone) {
      expect((await app.helper.post(`${at(code, entry.id)}/withdraw`)).status).toBe(303);
      const stored = storedOf(app.db, id);
      expect(rebuiltOf(app.db, id)).toEqual(stored);
    }
    expect(readEstimate(app.db, id)?.health).toBe('well');
  });

  it('keeps the place among the entries of a day when the first of them is corrected', async () => {
    const app = await testApp();
    const { id, code } = makeCounted(app.db, 140);
    const write = (fields: Record<string, string>) => app.owner.post(`/cultures/${code}/write`, fields);
    await write({ kind: 'harvest', animals: '20', note: 'sold' });
    await write({ kind: 'die-off', lost: '50' });
    const half = readEstimate(app.db, id)!.median!;
    const harvest = entries(app).find((e) => e.kind === 'harvest')!;
    await app.owner.post(at(code, harvest.id), { onDay: testToday, number: '40', note: 'sold' });
    // 20 more are taken out before half of the rest dies, so 10 fewer are left
    expect(half - readEstimate(app.db, id)!.median!).toBeCloseTo(10, 0);
    expect(rebuiltOf(app.db, id)).toEqual(storedOf(app.db, id));
  });
});

describe('correcting', () => {
  it('keeps what was written, and shows it struck out', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    await app.helper.post(`/cultures/${code}/count`, {
      ...seen(0, testToday),
      counted: 'about 40',
      note: 'in a hurry',
    });
    const [first] = entries(app);
    await app.owner.post(at(code, first!.id), { onDay: '2026-11-24', number: '44', note: 'with time' });
    const [old, mended] = entries(app);
    expect(old).toEqual(first);
    expect(mended).toMatchObject({
      rootId: first!.id,
      replacesId: first!.id,
      onDay: '2026-11-24',
      note: 'with time',
      wording: null,
      madeBy: 'person-owner',
    });
    expect(JSON.parse(mended!.countInput!)).toMatchObject({ method: 'visible', counted: 44 });
    const { text } = await app.helper.get(`/cultures/${code}`);
    expect(text).toContain('<s><strong>Count</strong> about 40 seen');
    expect(text).toContain('corrected later');
    expect(text).toContain('44 seen');
  });

  it('keeps wording and make-up when only the day or the note is mended', async () => {
    const app = await testApp();
    const { code } = makeCounted(app.db, 140);
    await app.helper.post(`/cultures/${code}/count`, { ...seen(0, testToday), counted: '~40' });
    await app.helper.post(`/cultures/${code}/write`, {
      kind: 'harvest',
      adults: '6',
      juveniles: '2',
      note: 'sold',
    });
    const [, count, harvest] = entries(app);
    await app.helper.post(at(code, count!.id), { onDay: '2026-11-24', number: '40', note: '' });
    await app.helper.post(at(code, harvest!.id), { onDay: testToday, number: '8', note: 'given away' });
    expect(entries(app).slice(-2)).toMatchObject([
      { wording: '~40', onDay: '2026-11-24' },
      { animals: 8, adults: 6, juveniles: 2, note: 'given away' },
    ]);
  });

  it('is refused for what stands no more, for splits, and for days that cannot be', async () => {
    const app = await testApp();
    const { code, enclosureId } = makeCounted(app.db, 140);
    await app.helper.post(`/cultures/${code}/count`, seen(30, testToday));
    const first = entries(app)[1]!;
    const mended = { onDay: testToday, number: '31', note: '' };
    for (const onDay of ['2026-11-26', '2026-01-09', 'soon'])
      expect((await app.helper.post(at(code, first.id), { ...mended, onDay })).status).toBe(422);
    for (const number of ['', '-1', '2.5', 'x', '1e99'])
      expect((await app.helper.post(at(code, first.id), { ...mended, number })).status, number).toBe(422);
    await app.helper.post(at(code, first.id), mended);
    expect((await app.helper.post(at(code, first.id), mended)).status).toBe(409);
    expect((await app.helper.post(`${at(code, first.id)}/withdraw`)).status).toBe(409);
    await app.helper.post(`/cultures/${code}/split`, { adults: '14', enclosureId: String(enclosureId) });
    const split = entries(app).find((e) => e.kind === 'split')!;
    expect((await app.owner.post(at(code, split.id), mended)).status).toBe(409);
    expect((await app.owner.post(`${at(code, split.id)}/withdraw`)).status).toBe(409);
  });

  it('knows only the culture’s own entries', async () => {
    const app = await testApp();
    const { code } = makeCounted(app.db);
    const other = makeCounted(app.db);
    const [mine, foreign] = entries(app);
    expect((await app.helper.get(at(code, mine!.id))).status).toBe(200);
    for (const id of [foreign!.id, 0, -1, 999_999])
      expect((await app.helper.get(at(code, id))).status, String(id)).toBe(404);
    for (const id of ['x', '1e3', '%00'])
      expect((await app.helper.get(`/cultures/${code}/diary/${id}`)).status, id).toBe(404);
    expect((await app.helper.post(`${at(code, foreign!.id)}/withdraw`)).status).toBe(404);
    expect((await app.outsider.post(`${at(other.code, foreign!.id)}/withdraw`)).headers.location).toBe(
      '/sign-in',
    );
    expect((await app.helper.post(`${at(code, mine!.id)}/withdraw`, {}, { csrf: 'wrong' })).status).toBe(403);
    expect(entries(app)).toHaveLength(2);
  });
});

describe('the database itself', () => {
  it('changes and deletes no entry, and takes none from before the founding', async () => {
    const app = await testApp();
    const { id } = makeCounted(app.db);
    expect(() => app.sqlite.exec("UPDATE diary SET note = 'x'")).toThrow('diary entries are not changed');
    expect(() => app.sqlite.exec('DELETE FROM diary')).toThrow('diary entries are kept');
    expect(() =>
      app.sqlite.exec(`INSERT INTO diary (culture_id, on_day, kind, withdrawn, note, via, made_at)
        VALUES (${id}, '2025-12-31', 'note', 0, '', 'page', 1)`),
    ).toThrow('cannot be older than its culture');
  });
});
