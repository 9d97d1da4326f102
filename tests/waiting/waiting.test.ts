import { describe, expect, it } from 'vitest';
import { speciesStages, standingDiary } from '../../server/schema/tables.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

const rows = (t: TestApp) =>
  t.db
    .select()
    .from(standingDiary)
    .all()
    .map(({ kind, onDay, food }) => ({ kind, onDay, food }));

/** The names of the fields a page's main form has. */
const fieldsOf = (html: string) =>
  [...new Set([...html.matchAll(/ name="([A-Za-z]\w*)"/g)].map(([, name]) => name))].sort();

describe('a look that was kept on a phone', () => {
  it('counts for the day on which it was done, with what was done', async () => {
    const t = await testApp();
    const { code } = makeCulture(t.db);
    const fields = { did: 'yes', what: 'feed fruit', onDay: '2026-11-23' };
    const answer = await t.helper.post(`/cultures/${code}/all-well`, fields, { part: true });
    expect(answer.status).toBeLessThan(300);
    expect(rows(t)).toEqual([
      { kind: 'check', onDay: '2026-11-23', food: null },
      { kind: 'feed', onDay: '2026-11-23', food: 'as always' },
      { kind: 'fruit-out', onDay: '2026-11-23', food: null },
    ]);
  });

  it.each([
    ['2026-11-26', 'still to come'],
    ['2026-01-09', 'was founded only on'],
    ['yesterday', 'must be a day'],
  ])('is refused for %s', async (onDay, why) => {
    const t = await testApp();
    const { code } = makeCulture(t.db, { foundedOn: '2026-01-10' });
    for (const [path, fields] of [
      [`/cultures/${code}/all-well`, { onDay }],
      ['/round/all-well', { onDay, codes: code }],
    ] as const) {
      const answer = await t.helper.post(path, fields);
      expect([path, answer.status]).toEqual([path, 422]);
      expect(answer.text).toContain(why);
    }
    expect(rows(t)).toEqual([]);
  });

  it('of several cultures is written at all of them or at none', async () => {
    const t = await testApp();
    const [first, second] = [makeCulture(t.db), makeCulture(t.db)];
    const fields = { did: 'yes', onDay: testToday, codes: [first.code, second.code] };
    expect((await t.helper.post('/round/all-well', { ...fields, codes: [first.code, 'NONE'] })).status).toBe(
      404,
    );
    expect(rows(t)).toEqual([]);
    // Somebody else has looked there meanwhile: what was done was done all the same.
    await t.owner.post(`/cultures/${first.code}/all-well`);
    await t.helper.post('/round/all-well', { ...fields, along: `feed ${second.code}` });
    expect(rows(t).map(({ kind }) => kind)).toEqual(['check', 'check', 'check', 'feed']);
  });

  it('is written by whoever wrote it, else not at all', async () => {
    const t = await testApp();
    const { code } = makeCulture(t.db);
    const sent = (headers: Record<string, string>) =>
      t.owner.post(`/cultures/${code}/all-well`, {}, { headers, part: true });
    expect((await sent({ 'written-by': cast.helper.id })).status).toBe(412);
    expect(rows(t)).toEqual([]);
    expect((await sent({ 'written-by': cast.owner.id })).status).toBeLessThan(300);
    expect((await t.owner.get('/round')).text).not.toContain('class="notice notice-');
  });

  it('says with 401 that nobody is signed in', async () => {
    const t = await testApp();
    for (const header of ['hx-request', 'by-script'])
      expect((await t.outsider.get('/signal', { [header]: 'true' })).status).toBe(401);
  });
});

describe('what a phone fetches to keep', () => {
  it('has the fields of the real forms', async () => {
    const t = await testApp();
    const { code } = makeCulture(t.db);
    makeCulture(t.db);
    for (const form of ['check', 'count', 'count?method=removal']) {
      const real = await t.helper.get(`/cultures/${code}/${form}${form.includes('?') ? '&' : '?'}from=round`);
      const blank = await t.helper.get(`/waiting/forms/${form}`);
      expect(fieldsOf(blank.text)).toEqual(fieldsOf(real.text));
      expect(blank.text).toContain(`action="/cultures/BLANK-CODE/${form.split('?')[0]}`);
    }
    expect((await t.helper.get('/waiting/forms/check?quarantine=yes')).text).toContain('In quarantine');
  });

  it('asks for what was foretold at a culture, as the real form does', async () => {
    const t = await testApp();
    const { id: speciesId } = makeSpecies(t.db, { sellable: false });
    const times = { coolC: 18, coolDays: 19, warmC: 25, warmDays: 8.5, source: 'own notes' };
    t.db
      .insert(speciesStages)
      .values({ speciesId, stage: 'hatch', ...times })
      .run();
    const [eggs, none] = [makeCulture(t.db, { speciesId }), makeCulture(t.db, { speciesId })];
    await t.helper.post(`/cultures/${eggs.code}/check`, { eggsSeen: 'yes', onDay: '2026-11-13' });
    const { cultures } = (await t.helper.get('/waiting/cultures')).body;
    expect(cultures).toMatchObject([
      { code: eggs.code, open: ['young'] },
      { code: none.code, open: [] },
    ]);
    const real = await t.helper.get(`/cultures/${eggs.code}/check`);
    const blank = await t.helper.get('/waiting/forms/check?open=young');
    for (const { text } of [real, blank]) expect(text).toContain('Looked for young');
    expect((await t.helper.get('/waiting/forms/check')).text).not.toContain('Looked for');
  });

  it('does not take the notice from the page that a person looks at', async () => {
    const t = await testApp();
    const { code } = makeCulture(t.db);
    await t.helper.post(`/cultures/${code}/all-well`);
    expect((await t.helper.get('/round', { 'for-later': 'yes' })).text).not.toContain(`${code}: all well.`);
    expect((await t.helper.get('/round')).text).toContain(`${code}: all well.`);
  });

  it('says whose it is and from when', async () => {
    const t = await testApp();
    const { headers } = await t.helper.get('/round');
    expect([headers['signed-in-as'], headers['made-at']]).toEqual([cast.helper.id, String(testNow)]);
    expect((await t.outsider.get('/sign-in')).headers['signed-in-as']).toBeUndefined();
    const { body } = await t.helper.get('/signal');
    expect(body).toMatchObject({
      person: { id: cast.helper.id, name: 'Hal Helper' },
      timeZone: 'Europe/Berlin',
    });
  });

  it('tells what others wrote meanwhile, not what one wrote oneself or before', async () => {
    const t = await testApp();
    const { code } = makeCulture(t.db);
    await t.owner.post(`/cultures/${code}/check`, { note: 'before' });
    t.clock.at += 60_000;
    await t.helper.post(`/cultures/${code}/check`, { note: 'own' });
    await t.owner.post(`/cultures/${code}/check`, { note: 'meanwhile', surface: 'dry' });
    const { body } = await t.helper.get(`/cultures/${code}/meanwhile?since=${testNow}`);
    expect(body.entries).toHaveLength(1);
    expect(body.entries[0]).toMatchObject({ by: 'Olive Owner', at: t.clock.at });
    expect(body.entries[0].what).toMatch(/^Check: .*dry.*meanwhile$/);
    expect((await t.helper.get(`/cultures/${code}/meanwhile?since=x`)).body).toEqual({ entries: [] });
  });

  it('lists the cultures that are kept, and takes the worker from the root without its being kept', async () => {
    const t = await testApp();
    const { code } = makeCulture(t.db, { status: 'quarantine' });
    const retired = makeCulture(t.db, { status: 'retired' });
    const { cultures } = (await t.helper.get('/waiting/cultures')).body;
    expect(cultures).toMatchObject([{ code, quarantine: true }]);
    expect(JSON.stringify(cultures)).not.toContain(retired.code);
    const { headers } = await t.outsider.get('/sw.js');
    expect(headers['cache-control']).toBe('public, max-age=0');
    expect(headers['content-type']).toContain('javascript');
  });

  it('has its modules kept for a year under their version, which pages and the worker name', async () => {
    const t = await testApp();
    const [, address = '', version = ''] =
      /src="(\/static\/waiting-([0-9a-f]+)\/page\.js)"/.exec((await t.helper.get('/round')).text) ?? [];
    const read = async (path: string) => {
      const { status, headers, text } = await t.outsider.get(path);
      return { status, keep: headers['cache-control'], type: headers['content-type'], text };
    };
    const page = await read(address);
    expect(page).toMatchObject({ status: 200, keep: 'public, max-age=31536000, immutable' });
    expect(page.type).toContain('javascript');
    // a page from before an upgrade still gets its modules, as they are now
    const before = await read('/static/waiting-0123456789ab/page.js');
    expect(before).toEqual({ ...page, keep: 'public, max-age=0', type: before.type });
    expect((await read(`/static/waiting-${version}/nothing.js`)).status).toBe(404);
    const named = [...(await read('/sw.js')).text.matchAll(/from '\.(\/static\/[^']+)'/g)];
    expect(named.length).toBeGreaterThan(5);
    for (const [, path = ''] of named) {
      expect(path).toContain(`/waiting-${version}/`);
      expect((await read(path)).status).toBe(200);
    }
  });
});
