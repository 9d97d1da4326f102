import { describe, expect, it } from 'vitest';
import { readEstimate } from '../../server/counts/queries-estimate.ts';
import { business, diary, standingDiary } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted.ts';
import { behavesLikeAFormPage } from '../support/form-page.ts';
import { rebuiltOf, storedOf } from '../support/rebuild.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

const path = (code: string) => `/cultures/${code}/check`;
const entries = ({ db }: TestApp) => db.select().from(diary).all();

describe('the page of a check', () => {
  behavesLikeAFormPage({
    path,
    good: { surface: 'moist', onDay: testToday },
    bad: { deaths: 'several', waterMl: '-5', note: '<script>alert(1)</script>' },
    says: 'A whole number.',
    keeps: ['value="several"', 'value="-5"', 'More than zero.', '&lt;script>alert(1)&lt;/script>'],
  });
});

describe('a check', () => {
  it('takes water in the measures of the house, and says it in them', async () => {
    const app = await testApp();
    app.db.update(business).set({ units: 'us' }).run();
    const { code } = makeCulture(app.db);
    const form = await app.helper.get(path(code));
    expect(form.text).toMatch(
      /<select class="field-unit" name="waterUnit"[^>]*><option value="tbsp" selected/,
    );
    // NIST Handbook 44, Appendix C: a US tablespoon is 14.787 ml.
    await app.helper.post(path(code), { surface: 'dry', waterMl: '2', waterUnit: 'tbsp' });
    expect(entries(app).at(-1)).toMatchObject({ kind: 'water', waterMl: 29.6 });
    expect((await app.helper.get(`/cultures/${code}`)).text).toMatch(/2.tbsp/);
    // Corrected in them too; what nobody changed does not drift.
    const at = `/cultures/${code}/diary/${entries(app).at(-1)?.id}`;
    expect((await app.helper.get(at)).text).toMatch(/Water, tbsp.*?value="2"/s);
    await app.helper.post(at, { onDay: testToday, number: '2', note: 'rain water' });
    expect(entries(app).at(-1)).toMatchObject({ waterMl: 29.6, note: 'rain water' });
    const again = `/cultures/${code}/diary/${entries(app).at(-1)?.id}`;
    await app.helper.post(again, { onDay: testToday, number: '4', note: '' });
    expect(entries(app).at(-1)).toMatchObject({ waterMl: 59.1 });
  });

  it('is written with all that was seen and done', async () => {
    const app = await testApp();
    const { code, id } = makeCulture(app.db);
    const answer = await app.helper.post(`${path(code)}?from=round`, {
      surface: 'dry',
      springtails: 'few',
      springtailsWhere: 'low',
      feedersLeft: 'plenty',
      youngSeen: 'yes',
      eggsSeen: 'yes',
      deaths: '2',
      visible: '23',
      waterMl: '60',
      food: 'leaf litter',
      fruitIn: 'yes',
      fruitOut: 'yes',
      note: 'lid was ajar',
    });
    expect(answer.headers.location).toBe('/round');
    expect(entries(app).map((e) => e.kind)).toEqual([
      'check',
      'count',
      'water',
      'feed',
      'fruit-out',
      'fruit-in',
    ]);
    expect(entries(app)[0]).toMatchObject({
      surface: 'dry',
      springtails: 'few',
      springtailsWhere: 'low',
      feedersLeft: 'plenty',
      youngSeen: true,
      eggsSeen: true,
      mouldSeen: false,
      mitesSeen: false,
      deaths: 2,
      note: 'lid was ajar',
      madeBy: 'person-helper',
    });
    expect(JSON.parse(entries(app)[1]!.countInput!)).toMatchObject({ method: 'visible', counted: 23 });
    expect(readEstimate(app.db, id)).toMatchObject({ lastCheckOn: testToday, lastCountOn: testToday });
    expect(rebuiltOf(app.db, id)).toEqual(storedOf(app.db, id));
    const { text } = await app.helper.get(`/cultures/${code}`);
    expect(text).toContain('surface dry; springtails few, low; feeders left: plenty; young seen');
  });

  it('is undone whole: with the count, the water and the food written along', async () => {
    const app = await testApp();
    const { code, id } = makeCounted(app.db);
    const before = storedOf(app.db, id).estimate;
    app.clock.at += 60_000;
    await app.helper.post(`${path(code)}?from=round`, { visible: '9', waterMl: '60', food: 'oak leaves' });
    app.clock.at += 60_000;
    await app.helper.post(`/cultures/${code}/write`, { kind: 'note', note: 'stays' });
    const { text } = await app.helper.get('/round');
    const [, action = ''] = /class="round-done"[\s\S]*?action="([^"]*\/withdraw)"/.exec(text) ?? [];
    expect(text).toContain('name="whole" value="yes"');
    await app.helper.post(action, { back: '/round', whole: 'yes' });
    const standing = app.db.select().from(standingDiary).all();
    expect(standing.map((e) => e.kind)).toEqual(['count', 'note']);
    expect(storedOf(app.db, id).estimate).toEqual(before);
  });

  it('takes back a choice that was touched by mistake', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    await app.helper.post(path(code), {
      surface: '',
      springtails: '',
      springtailsWhere: '',
      feedersLeft: '',
    });
    expect(entries(app)).toMatchObject([
      { kind: 'check', surface: null, springtails: null, feedersLeft: null },
    ]);
    expect((await app.helper.get(`/cultures/${code}`)).text).toContain('all well');
    expect((await app.helper.post(path(code), { surface: 'soaked' })).status).toBe(422);
  });

  it('may be of an earlier day', async () => {
    const app = await testApp();
    const { code, id } = makeCounted(app.db);
    await app.helper.post(path(code), { onDay: '2026-11-20' });
    await app.helper.post(path(code), { onDay: '2026-11-11', visible: '30' });
    expect(readEstimate(app.db, id)).toMatchObject({ lastCheckOn: '2026-11-20', lastCountOn: '2026-11-18' });
    expect(rebuiltOf(app.db, id)).toEqual(storedOf(app.db, id));
  });

  it('shows what was written lately, and the species’ cautions', async () => {
    const app = await testApp();
    const species = makeSpecies(app.db, { cautions: 'Wear gloves & a mask.' });
    const { code } = makeCulture(app.db, { speciesId: species.id });
    await app.helper.post(path(code), { onDay: '2026-11-20', note: 'a bit dry' });
    const { text } = await app.helper.get(path(code));
    expect(text).toContain('Check: all well; a bit dry');
    expect(text).toContain('Wear gloves &amp; a mask.');
  });
});
