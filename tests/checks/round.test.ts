import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { diary, standingDiary } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

type Overrides = Parameters<typeof makeCulture>[1] & { checkedDaysAgo?: number };

/** A culture that was checked so many days ago, or never. */
function kept({ db }: TestApp, { checkedDaysAgo, ...overrides }: Overrides = {}) {
  // Not sold, so that no count is due for its own sake.
  const speciesId = overrides.speciesId ?? makeSpecies(db, { sellable: false }).id;
  const culture = makeCulture(db, { ...overrides, speciesId });
  const by = { via: 'page', madeBy: 'person-helper', madeAt: testNow } as const;
  if (checkedDaysAgo !== undefined) {
    const onDay = addDays(testToday, -checkedDaysAgo);
    appendEntry(db, {
      ...by,
      cultureId: culture.id,
      kind: 'check',
      onDay,
      mitesSeen: false,
      mouldSeen: false,
    });
  }
  refreshEstimate(db, culture.id, testToday, testNow);
  return culture;
}

const checks = ({ db }: TestApp) =>
  db.select().from(standingDiary).where(eq(standingDiary.kind, 'check')).all();

/** The codes of the round in the order of the page. */
async function walked({ helper }: TestApp) {
  const { status, text } = await helper.get('/round');
  expect(status).toBe(200);
  const rows = [
    ...text.matchAll(
      /class="round-row[^"]*"[^>]*>(?:<label.*?<\/label>)?<div class="round-what"><a class="code" href="\/cultures\/([^"]+)"/g,
    ),
  ];
  return { codes: rows.map((row) => row[1]), text };
}

describe('the round', () => {
  it('is for whoever is signed in, and says what to do first where there is nothing', async () => {
    const app = await testApp();
    expect((await app.outsider.get('/round')).headers.location).toBe('/sign-in?next=%2Fround');
    const [helpers, owners] = [await app.helper.get('/round'), await app.owner.get('/round')];
    expect([helpers.status, helpers.text.includes('No cultures yet.')]).toEqual([200, true]);
    expect([owners.status, owners.text.includes('id="first-steps"')]).toEqual([200, true]);
  });

  it('shows what is due in walking order, quarantine last, and nothing else', async () => {
    const app = await testApp();
    const weekly = makeSpecies(app.db, { checkEveryDays: 7, sellable: false });
    const daily = makeSpecies(app.db, { checkEveryDays: 1, sellable: false });
    const far = makePlace(app.db, { name: 'Far', shelfOrder: '2-1' });
    const near = makePlace(app.db, { name: 'Near', shelfOrder: '1-9' });
    const due = { speciesId: weekly.id, checkedDaysAgo: 8 };
    kept(app, { ...due, code: 'C-FAR', placeId: far.id });
    kept(app, { ...due, code: 'B-NEAR', placeId: near.id });
    kept(app, { ...due, code: 'A-NEAR', placeId: near.id, checkedDaysAgo: 7 });
    kept(app, { ...due, code: 'D-NOWHERE', placeId: null });
    kept(app, { ...due, code: 'A-QUARANTINE', placeId: near.id, status: 'quarantine' });
    kept(app, { ...due, code: 'A-RETIRED', placeId: near.id, status: 'retired' });
    kept(app, { ...due, code: 'A-LATER', placeId: near.id, checkedDaysAgo: 6 });
    kept(app, { speciesId: daily.id, checkedDaysAgo: 1, code: 'C-DAILY', placeId: near.id });
    kept(app, { speciesId: weekly.id, code: 'D-NEW', placeId: near.id });
    const { codes, text } = await walked(app);
    expect(codes).toEqual(['A-NEAR', 'B-NEAR', 'C-DAILY', 'D-NEW', 'C-FAR', 'D-NOWHERE', 'A-QUARANTINE']);
    expect(text).toContain('0 of 7 cultures done');
    expect(text).toContain('last checked 8 days ago, wants it every 7 days');
    expect(text).toContain('never checked yet');
    expect(text).toContain('Quarantine: last, with clean hands and tools of its own');
  });

  it('says when the next is due where nothing is', async () => {
    const app = await testApp();
    kept(app, { checkedDaysAgo: 3 });
    kept(app, { checkedDaysAgo: 5 });
    expect((await app.helper.get('/round')).text).toContain('the next look is due in 2 days');
  });

  it('follows the day of the business', async () => {
    const app = await testApp();
    kept(app, { checkedDaysAgo: 6, code: 'EX-LATER' });
    expect((await walked(app)).codes).toEqual([]);
    app.clock.at += 11.5 * 3_600_000; // half past eleven at night in Berlin: still the same day
    expect((await walked(app)).codes).toEqual([]);
    app.clock.at += 3_600_000;
    expect((await walked(app)).codes).toEqual(['EX-LATER']);
  });
});

describe('all well', () => {
  it('takes one tap and one POST', async () => {
    const app = await testApp();
    const { code, id } = kept(app, { checkedDaysAgo: 8 });
    const { text } = await walked(app);
    expect(text).toContain(`action="/cultures/${code}/all-well"`);
    const answer = await app.helper.post(`/cultures/${code}/all-well`);
    expect([answer.status, answer.headers.location]).toEqual([303, '/round']);
    expect(checks(app).at(-1)).toMatchObject({
      cultureId: id,
      onDay: testToday,
      mitesSeen: false,
      mouldSeen: false,
      madeBy: 'person-helper',
    });
    const after = await walked(app);
    expect(after.text).toContain('1 of 1 cultures done');
    expect(after.text).toContain('Looked at today');
    expect(after.text).toContain(`${code}: all well.`);
  });

  it('answers a script with the row, the progress and what is heard', async () => {
    const app = await testApp();
    const { code } = kept(app, { checkedDaysAgo: 8 });
    kept(app, { checkedDaysAgo: 9 });
    const { status, text } = await app.helper.post(`/cultures/${code}/all-well`, {}, { part: true });
    expect(status).toBe(200);
    expect(text).toMatch(/^<li id="round-/);
    expect(text).toContain('Looked at today');
    expect(text).toContain('1 of 2 cultures done');
    expect(text.match(/hx-swap-oob="true"/g)).toHaveLength(2);
    expect(text).toContain(`${code}: all well.`);
    expect(text).not.toContain('id="notice"');
    expect(text).not.toContain('<html');
  });

  it('acts once however often it is tapped', async () => {
    const app = await testApp();
    const { code } = kept(app);
    const key = { formKey: 'the-same-form-key-01' };
    for (let tap = 0; tap < 3; tap += 1)
      expect((await app.helper.post(`/cultures/${code}/all-well`, {}, key)).status).toBe(303);
    expect(checks(app)).toHaveLength(1);
  });

  it('is undone with one more, and what was written stays readable', async () => {
    const app = await testApp();
    const { code } = kept(app, { checkedDaysAgo: 8 });
    await app.helper.post(`/cultures/${code}/all-well`);
    const written = checks(app).at(-1)!;
    const { text } = await walked(app);
    const undo = `/cultures/${code}/diary/${written.id}/withdraw`;
    expect(text).toContain(`action="${undo}"`);
    const answer = await app.helper.post(undo, { back: '/round' });
    expect(answer.headers.location).toBe('/round');
    expect(checks(app)).toHaveLength(1);
    expect(app.db.select().from(diary).all()).toHaveLength(3);
    expect((await walked(app)).text).toContain('0 of 1 cultures done');
    const elsewhere = await app.helper.post(undo, { back: 'https://example.org/' });
    expect(elsewhere.status).toBe(409);
  });

  it('is no way in for others', async () => {
    const app = await testApp();
    const { code } = kept(app);
    expect((await app.outsider.post(`/cultures/${code}/all-well`)).headers.location).toBe('/sign-in');
    expect((await app.helper.post(`/cultures/${code}/all-well`, {}, { csrf: 'wrong' })).status).toBe(403);
    expect((await app.helper.post('/cultures/NO-1/all-well')).status).toBe(404);
    expect((await app.helper.get(`/cultures/${code}/all-well`)).status).toBe(404);
    expect(checks(app)).toHaveLength(0);
  });

  it('works for codes of any letters', async () => {
    const app = await testApp();
    const { code } = kept(app, { code: 'ÄÖ/7.b_x' });
    const answer = await app.helper.post(
      `/cultures/${encodeURIComponent(code)}/all-well`,
      {},
      { part: true },
    );
    expect(answer.text).toMatch(/^<li id="round-[A-Za-z0-9_-]+" class/);
    expect((await app.helper.get(`/cultures/${encodeURIComponent(code)}`)).status).toBe(200);
  });
});

describe('what wants the owner’s eye', () => {
  it('is named under the round', async () => {
    const app = await testApp();
    const { code } = kept(app, { checkedDaysAgo: 1 });
    await app.helper.post(`/cultures/${code}/write`, { kind: 'mites' });
    const { text } = await walked(app);
    expect(text).toMatch(/Wants the owner&#39;s eye|Wants the owner's eye/);
    expect(text).toContain('mites seen');
  });
});
