import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { appendEntry, type NewEntry } from '../../server/cultures/queries-diary.ts';
import { cultures, putOffs, roundCounts, standingDiary } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { makeCounted } from '../support/counted.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

type Written = Partial<NewEntry> & Pick<NewEntry, 'kind'> & { daysAgo: number };

/** A culture nobody sells, with what was written of it. */
function kept(
  { db }: TestApp,
  code: string,
  written: Written[],
  culture: Parameters<typeof makeCulture>[1] = {},
) {
  const speciesId = makeSpecies(db, { sellable: false }).id;
  const made = makeCulture(db, { code, speciesId, ...culture });
  for (const { daysAgo, ...entry } of written)
    appendEntry(db, {
      cultureId: made.id,
      onDay: addDays(testToday, -daysAgo),
      via: 'page',
      madeBy: null,
      madeAt: testNow,
      ...entry,
    });
  refreshEstimate(db, made.id, testToday, testNow);
  return made;
}

const round = async ({ helper }: TestApp) => (await helper.get('/round')).text;
/** The row of a culture on the page. */
const rowIn = (html: string, code: string) =>
  html.split('<li ').find((item) => item.includes(`href="/cultures/${code}"`)) ?? '';
const rowOf = async (app: TestApp, code: string) => rowIn(await round(app), code);
const entries = ({ db }: TestApp, kind: 'check' | 'feed' | 'water' | 'fruit-out' | 'count') =>
  db.select().from(standingDiary).where(eq(standingDiary.kind, kind)).all();
const due = (daysAgo = 8): Written => ({ kind: 'check', daysAgo });
const undoOf = (html: string) => ({
  action: /<form action="(\/round\/undo)"/.exec(html)?.[1] ?? '',
  ids: /name="ids" value="([^"]+)"/.exec(html)?.[1] ?? '',
});

describe('what is due beside the look', () => {
  it('stands on the round with its reason, and is done with one tap', async () => {
    const app = await testApp();
    kept(app, 'R-1', [
      { kind: 'check', daysAgo: 2, surface: 'dry' },
      { kind: 'water', daysAgo: 9, waterMl: 25 },
      { kind: 'feed', daysAgo: 9, food: 'oak leaves' },
      { kind: 'fruit-in', daysAgo: 4 },
    ]);
    const row = await rowOf(app, 'R-1');
    expect(row).toContain('food: fed 9 days ago, wants it every 7 days');
    expect(row).toContain('fruit: put in 4 days ago, take it out before it moulds');
    expect(row).toContain('water: the surface was dry 2 days ago');
    expect(row).toContain('All well, watered, fed, fruit out');
    await app.helper.post('/cultures/R-1/all-well', { did: 'yes' });
    expect(entries(app, 'feed').at(-1)).toMatchObject({ onDay: testToday, food: 'oak leaves' });
    expect(entries(app, 'water').at(-1)).toMatchObject({ onDay: testToday, waterMl: 25 });
    expect(entries(app, 'fruit-out')).toHaveLength(1);
    const after = await rowOf(app, 'R-1');
    expect(after).toContain('Looked at today');
    const undo = /action="([^"]+\/withdraw)"/.exec(after)?.[1] ?? '';
    await app.helper.post(undo, { back: '/round', whole: 'yes' });
    expect(await rowOf(app, 'R-1')).toContain('All well, watered, fed, fruit out');
    expect(entries(app, 'feed')).toHaveLength(1);
  });

  it('is not offered as done where nobody ever wrote how much water', async () => {
    const app = await testApp();
    kept(app, 'R-3', [{ kind: 'check', daysAgo: 8, surface: 'dry' }]);
    const row = await rowOf(app, 'R-3');
    expect(row).toContain('water: the surface was dry 8 days ago');
    expect(row).not.toContain('watered');
    await app.helper.post('/round/all-well', { codes: 'R-3', did: 'yes' });
    expect(await rowOf(app, 'R-3')).toContain('water: the surface was dry 8 days ago');
  });

  it('stays open after a look that did not do it', async () => {
    const app = await testApp();
    kept(app, 'R-2', [due(), { kind: 'feed', daysAgo: 9, food: 'oak leaves' }]);
    await app.helper.post('/cultures/R-2/all-well');
    const row = await rowOf(app, 'R-2');
    expect(row).toContain('food: fed 9 days ago');
    expect(row).not.toContain('last checked');
    expect(await round(app)).toContain('0 of 1 cultures done');
  });
});

describe('several at once', () => {
  it('are written down with one press and taken back with one', async () => {
    const app = await testApp();
    for (const code of ['R-1', 'R-2', 'R-3']) kept(app, code, [due()]);
    const sent = await app.helper.post('/round/all-well', { codes: ['R-1', 'R-3'] });
    expect([sent.status, sent.headers.location]).toEqual([303, '/round']);
    const page = await round(app);
    expect(page).toContain('2 cultures: all well.');
    expect(page).toContain('2 of 3 cultures done');
    expect(entries(app, 'check')).toHaveLength(5);
    const { action, ids } = undoOf(page);
    await app.helper.post(action, { ids });
    const back = await round(app);
    expect(back).toContain('2 looks taken back. It stays readable in the diaries.');
    expect(back).toContain('0 of 3 cultures done');
    await app.helper.post(action, { ids });
    expect(await round(app)).toContain('That was taken back already.');
  });

  it('can be a whole place, but what is not well there is looked at by itself', async () => {
    const app = await testApp();
    const shelf = makePlace(app.db, { name: 'North shelf' });
    const at = { placeId: shelf.id };
    kept(app, 'R-1', [due()], at);
    kept(app, 'R-2', [due()], at);
    kept(app, 'R-3', [due(), { kind: 'mites', daysAgo: 3 }], at);
    const page = await round(app);
    const whole = /<form action="\/round\/all-well"[^>]*aria-label="All of North shelf".*?<\/form>/s.exec(
      page,
    )?.[0];
    expect(whole).toContain('All 2 here are well');
    expect(whole).not.toContain('value="R-3"');
  });

  it('do what was due along when that is said, and nothing twice', async () => {
    const app = await testApp();
    kept(app, 'R-1', [due(), { kind: 'feed', daysAgo: 9, food: 'oak leaves' }]);
    kept(app, 'R-2', [due()]);
    await app.helper.post('/round/all-well', { codes: ['R-1', 'R-2'], did: 'yes' });
    expect(entries(app, 'feed')).toHaveLength(2);
    await app.helper.post('/round/all-well', { codes: ['R-1', 'R-2'], did: 'yes' });
    expect(await round(app)).toContain('somebody has looked at these already');
    expect(entries(app, 'check')).toHaveLength(4);
  });

  it('act once when the form is sent twice, and say what is missing', async () => {
    const app = await testApp();
    kept(app, 'R-1', [due()]);
    const key = { formKey: 'the-same-form-key-01' };
    for (let tap = 0; tap < 3; tap += 1) await app.helper.post('/round/all-well', { codes: 'R-1' }, key);
    expect(entries(app, 'check')).toHaveLength(2);
    await app.helper.post('/round/all-well');
    expect(await round(app)).toContain('Tick the cultures first.');
    await app.helper.post('/round/all-well', { codes: ['NO-1', "' OR 1=1 --"] });
    expect((await app.outsider.post('/round/all-well', { codes: 'R-1' })).headers.location).toBe('/sign-in');
    expect((await app.helper.post('/round/undo', { ids: '1;2' })).status).toBe(400);
    expect(entries(app, 'check')).toHaveLength(2);
  });
});

describe('putting off', () => {
  it('needs a reason, which whoever comes next reads, and is undone', async () => {
    const app = await testApp();
    kept(app, 'R-1', [due()]);
    const at = '/cultures/R-1/put-off';
    expect((await app.helper.get(at)).text).toContain('last checked 8 days ago');
    const bad = await app.helper.post(at, { what: 'check', days: '2', reason: ' ' });
    expect([bad.status, bad.text.includes('Say why')]).toEqual([422, true]);
    const sent = await app.helper.post(at, { what: 'check', days: '2', reason: 'just <moulted>' });
    expect(sent.headers.location).toBe('/round');
    const page = await round(app);
    expect(page).toContain('the look waits until');
    expect(page).toContain('(Hal Helper): just &lt;moulted>');
    expect(page).not.toContain('value="R-1" form="round-many"');
    app.clock.forward(2);
    expect(await round(app)).toContain('value="R-1" form="round-many"');
    app.clock.forward(-2);
    const [row] = app.db.select().from(putOffs).all();
    await app.owner.post(`/round/put-offs/${row!.id}/undo`);
    expect(await round(app)).toContain('value="R-1" form="round-many"');
  });

  it('is only for cultures that are there', async () => {
    const app = await testApp();
    const form = { what: 'check', days: '2', reason: 'just moulted' };
    expect((await app.helper.post('/cultures/NO-1/put-off', form)).status).toBe(404);
    expect((await app.outsider.get('/cultures/NO-1/put-off')).status).toBe(303);
    for (const days of ['0', '61', '1.5', 'x']) {
      kept(app, `R-${days}`, [due()]);
      const path = `/cultures/${encodeURIComponent(`R-${days}`)}/put-off`;
      expect((await app.helper.post(path, { ...form, days })).status).toBe(422);
    }
  });
});

describe('counts handed to the round', () => {
  async function handed() {
    const app = await testApp();
    const shelf = makePlace(app.db, { name: 'Far shelf', shelfOrder: '9' });
    const species = makeSpecies(app.db);
    for (const [i, animals] of [140, 90, 60].entries())
      makeCounted(app.db, animals, {
        speciesId: species.id,
        code: `C-${i + 1}`,
        onDay: '2026-06-01',
        ...(i === 0 && { placeId: shelf.id }),
      });
    const { text } = await app.owner.get('/surplus/count-next');
    const codes = [...text.matchAll(/name="codes" value="([^"]+)"/g)].map((m) => m[1]!);
    await app.owner.post('/surplus/count-next', { codes, first: 1 });
    return { app, codes, code: codes[0]! };
  }

  it('stand at their place with the reason and lead to the count', async () => {
    const { app, codes, code } = await handed();
    expect(codes.length).toBeGreaterThan(1);
    const row = await rowOf(app, code);
    expect(row).toMatch(
      /count: likely frees about [\d.]+ groups?, about 30 minutes, asked for by Olive Owner/,
    );
    expect(row).toContain(`href="/cultures/${code}/count?from=round&amp;method=full"`);
    expect(app.db.select().from(roundCounts).all()).toMatchObject([
      { onDay: testToday, madeBy: 'person-owner' },
    ]);
    const { text } = await app.helper.get('/surplus/count-next');
    expect(text).toContain("on today's round");
    expect([...text.matchAll(/name="codes" value="([^"]+)"/g)].map((m) => m[1])).not.toContain(code);
  });

  it('are done by a count, and open again when that is taken back', async () => {
    const { app, code } = await handed();
    await app.helper.post(`/cultures/${code}/all-well`);
    expect(await rowOf(app, code)).toContain('count: likely frees');
    const form = { method: 'full', counted: '120', from: 'round' };
    const sent = await app.helper.post(`/cultures/${code}/count`, form);
    expect(sent.headers.location).toBe('/round');
    expect(await rowOf(app, code)).toContain('Counted');
    const counted = entries(app, 'count').find(({ onDay }) => onDay === testToday);
    await app.helper.post(`/cultures/${code}/diary/${counted?.id}/withdraw`);
    expect(await rowOf(app, code)).toContain('count: likely frees');
  });

  it('are not asked twice, and taken off again by whoever works there', async () => {
    const { app, codes, code } = await handed();
    await app.helper.post('/surplus/count-next', { codes, first: 2 });
    expect(app.db.select().from(roundCounts).all()).toHaveLength(2);
    const page = (await app.helper.get('/surplus/count-next')).text;
    expect(page).toContain("1 count handed to today's round.");
    const ids = app.db
      .select()
      .from(roundCounts)
      .all()
      .map(({ id }) => id);
    await app.helper.post('/surplus/count-next/undo', { ids: ids.join(',') });
    expect(await rowOf(app, code)).not.toContain('count: likely frees');
    expect((await app.helper.post('/surplus/count-next', { codes: [], first: 1 })).status).toBe(400);
    expect((await app.helper.post('/surplus/count-next', { codes, first: 99 })).status).toBe(400);
    expect((await app.outsider.post('/surplus/count-next', { codes, first: 1 })).headers.location).toBe(
      '/sign-in',
    );
  });

  it('fall away with the day, in sight, and can be asked again', async () => {
    const { app, code } = await handed();
    const left = async () => (await round(app)).split('Asked for, not counted')[1] ?? '';
    const next = (days: number) => {
      app.clock.forward(days);
      const today = dayInZone(app.clock.at, 'Europe/Berlin');
      for (const { id } of app.db.select().from(cultures).all())
        refreshEstimate(app.db, id, today, app.clock.at);
    };
    next(1);
    expect(await left()).toContain(`href="/cultures/${code}"`);
    expect(await left()).toContain('not counted, still worth it: likely frees');
    await app.helper.post('/surplus/count-next', { codes: code, first: 1, back: '/round' });
    expect(await left()).toBe('');
    expect(await rowOf(app, code)).toContain('count: likely frees');
    next(1);
    expect(await left()).toContain('still worth it');
    appendEntry(app.db, {
      cultureId: app.db.select().from(cultures).where(eq(cultures.code, code)).get()!.id,
      kind: 'mites',
      onDay: '2026-11-27',
      via: 'page',
      madeBy: null,
      madeAt: app.clock.at,
    });
    next(0);
    expect(await left()).toContain('not worth a count any more');
    next(8);
    expect(await left()).toBe('');
  });
});
