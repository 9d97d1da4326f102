import { describe, expect, it } from 'vitest';
import { contacts, diary, standingDiary } from '../../server/schema/tables.ts';
import { allContacts } from '../../server/traces/queries-contacts.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

const script = '<script>alert(1)</script>';

/** A culture of isopods and one of flies. */
async function bench() {
  const app = await testApp();
  const flies = makeSpecies(app.db, { animalGroup: 'fly', commonName: 'example fly' });
  const fly = makeCulture(app.db, { code: 'FLY-1', speciesId: flies.id });
  const culture = makeCulture(app.db, { code: 'ISO-1' });
  return { ...app, fly, culture };
}
const said = ({ db }: TestApp) => allContacts(db).map((c) => `${c.date} ${c.from}>${c.to} ${c.kind}`);
const nothing = ({ db }: TestApp) =>
  expect([db.select().from(diary).all(), db.select().from(contacts).all()]).toEqual([[], []]);

describe.each([
  ['check', {}],
  ['write', { kind: 'feed' }],
])('on the page to %s', (page, kind) => {
  const path = `/cultures/ISO-1/${page}`;

  it('a meal says which feeder culture it came from, and is called after it where nobody typed more', async () => {
    const app = await bench();
    const { text } = await app.helper.get(`${path}?kind=feed`);
    expect(text).toContain('<optgroup label="Feeder cultures"><option value="FLY-1">FLY-1, example fly');
    await app.helper.post(path, { ...kind, feederFrom: 'fly-1' });
    await app.helper.post(path, { ...kind, food: script, feederFrom: 'FLY-1' });
    const fed = app.db.select().from(diary).all();
    expect(fed.filter((e) => e.kind === 'feed')).toMatchObject([
      { food: 'example fly', otherCultureId: app.fly.id },
      { food: script, otherCultureId: app.fly.id },
    ]);
    expect(said(app)).toEqual(['2026-11-25 FLY-1>ISO-1 feeders']);
    const shown = (await app.helper.get('/cultures/ISO-1')).text;
    expect(shown).toContain('example fly from <a class="code" href="/cultures/FLY-1"');
    expect(shown.includes(script)).toBe(false);
  });

  it('a tool says where it was used before: at the culture this person was just at', async () => {
    const app = await bench();
    await app.helper.post('/cultures/FLY-1/write', { kind: 'note', note: 'x' });
    makeCulture(app.db, { code: 'ISO-2' });
    await app.owner.post('/cultures/ISO-2/write', { kind: 'note', note: 'by somebody else' });
    const { text } = await app.helper.get(`${path}?kind=feed`);
    expect(text).toContain('<optgroup label="Just before"><option value="FLY-1" selected');
    await app.helper.post(path, { ...kind, food: 'flakes', toolsFrom: 'FLY-1' });
    expect(said(app)).toEqual([]);
    await app.helper.post(path, { ...kind, food: 'flakes', tools: 'yes', toolsFrom: 'FLY-1' });
    expect(said(app)).toEqual(['2026-11-25 FLY-1>ISO-1 shared tool']);
    expect(app.db.select().from(contacts).all()).toMatchObject([{ madeBy: 'person-helper', note: '' }]);
  });

  it('unknown codes, the culture itself and cultures not yet founded are refused in words', async () => {
    const app = await bench();
    makeCulture(app.db, { code: 'NEW-1', foundedOn: testToday });
    for (const [code, words] of [
      ['NO-1', 'No culture here has the code NO-1.'],
      [script, 'No culture here has the code &lt;script>'],
      ['ISO-1', 'ISO-1 is this culture itself.'],
      ['NEW-1', 'NEW-1 was founded only on 25 Nov 2026.'],
    ] as const) {
      const both: Record<string, string>[] = [
        { feederFrom: code },
        { food: 'flakes', tools: 'yes', toolsFrom: code },
      ];
      for (const fields of both) {
        const answer = await app.helper.post(path, { ...kind, ...fields, onDay: '2026-11-24' });
        expect([answer.status, answer.text.includes(words)], words).toEqual([422, true]);
        expect(answer.text.includes('<script>alert')).toBe(false);
      }
    }
    const noCode = await app.helper.post(path, { ...kind, food: 'flakes', tools: 'yes', toolsFrom: '' });
    expect(noCode.text).toContain('Say which culture they were used at.');
    const future = { ...kind, food: 'x', tools: 'yes', toolsFrom: 'FLY-1', onDay: '2026-11-26' };
    expect((await app.helper.post(path, future)).status).toBe(422);
    nothing(app);
  });

  it('what was written along goes with its entry, and follows it to another day', async () => {
    const app = await bench();
    await app.helper.post(path, { ...kind, food: 'flakes', tools: 'yes', toolsFrom: 'FLY-1' });
    const first = app.db.select().from(standingDiary).all()[0]!;
    await app.helper.post(`/cultures/ISO-1/diary/${first.id}`, { onDay: '2026-11-20', food: 'flakes' });
    expect(said(app)).toEqual(['2026-11-20 FLY-1>ISO-1 shared tool']);
    const moved = app.db
      .select()
      .from(standingDiary)
      .all()
      .find((e) => e.onDay === '2026-11-20')!;
    await app.helper.post(`/cultures/ISO-1/diary/${moved.id}/withdraw`, {});
    expect(said(app)).toEqual([]);
    expect(app.db.select().from(contacts).all()).toHaveLength(4);
  });

  it('of very many cultures the code is written, with few suggested', async () => {
    const app = await bench();
    const { speciesId, enclosureId } = app.culture;
    for (let i = 0; i < 151; i += 1) makeCulture(app.db, { speciesId, enclosureId, placeId: null });
    const { text } = await app.helper.get(`${path}?kind=feed`);
    expect(text).toContain('<datalist id="field-feederFrom-list"><option value="FLY-1"');
    expect(text).toContain('name="toolsFrom" type="text"');
    await app.helper.post(path, { ...kind, feederFrom: 'FLY-1', tools: 'yes', toolsFrom: 'fly-1' });
    expect(said(app)).toHaveLength(2);
  });
});

describe('a count', () => {
  it('tells tools that were not cleaned, and refuses a culture that is not there', async () => {
    const app = await bench();
    const path = '/cultures/ISO-1/count';
    const fields = { method: 'full', counted: 30, tools: 'yes' };
    expect((await app.helper.get(path)).text).toContain('Tools not cleaned in between');
    const wrong = await app.helper.post(path, { ...fields, toolsFrom: 'NO-1' });
    expect([wrong.status, wrong.text.includes('No culture here has the code NO-1.')]).toEqual([422, true]);
    nothing(app);
    expect((await app.helper.post(path, { ...fields, toolsFrom: 'FLY-1' })).status).toBe(303);
    expect(said(app)).toEqual(['2026-11-25 FLY-1>ISO-1 shared tool']);
  });
});

describe('a split', () => {
  it('tells old substrate that moved along, and tools that were not cleaned', async () => {
    const app = await bench();
    const fields = {
      adults: 10,
      seeding: 100,
      seedingUnit: 'ml',
      enclosureId: app.culture.enclosureId,
      code: 'ISO-9',
      tools: 'yes',
      despite: ['reserve', 'unsafe'],
      reason: 'a test',
    };
    const path = '/cultures/ISO-1/split';
    expect((await app.owner.get(path)).text).toContain('Tools not cleaned in between');
    const wrong = await app.owner.post(path, { ...fields, toolsFrom: 'NO-1' });
    expect([wrong.status, wrong.text.includes('No culture here has the code NO-1.')]).toEqual([422, true]);
    nothing(app);
    expect((await app.owner.post(path, { ...fields, toolsFrom: 'FLY-1' })).status).toBe(303);
    expect(said(app)).toEqual([
      '2026-11-25 FLY-1>ISO-1 shared tool',
      '2026-11-25 ISO-1>ISO-9 seeding',
      '2026-11-25 ISO-1>ISO-9 split',
    ]);
  });
});
