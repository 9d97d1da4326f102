import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { diary } from '../../server/schema/tables.ts';
import { catchesSoFar, catchFields, tallyWords } from '../../shared/counts/tally-form.ts';
import { behavesLikeAFormPage } from '../support/form-page.ts';
import { makeCulture } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

const written = ({ db }: TestApp) =>
  db
    .select()
    .from(diary)
    .all()
    .map(({ kind, countInput, note }) => ({ kind, count: JSON.parse(countInput ?? 'null'), note }));

describe('a tally', () => {
  behavesLikeAFormPage({
    path: (code) => `/cultures/${code}/tally`,
    good: { method: 'full', adults: 40, juveniles: 12 },
    bad: { method: 'full', adults: 'forty', juveniles: 12, note: '<script>alert(1)</script>' },
    says: 'Write a whole number, such as 12.',
    keeps: ['value="forty"', 'value="12"'],
  });

  it('becomes the count of its method, with the make-up in its note', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    await app.helper.post(`/cultures/${code}/tally`, {
      method: 'full',
      adults: 40,
      juveniles: 1,
      note: 'Lively.',
    });
    await app.helper.post(`/cultures/${code}/tally`, { method: 'sample', juveniles: 9, fraction: '1 of 5' });
    expect(written(app)).toMatchObject([
      { kind: 'count', count: { method: 'full', counted: 41 }, note: '40 adults, 1 juvenile. Lively.' },
      { kind: 'count', count: { method: 'sample', counted: 9, fraction: 0.2 }, note: '9 juveniles.' },
    ]);
  });

  it('asks for what is missing and keeps what was counted', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const none = await app.helper.post(`/cultures/${code}/tally`, { method: 'full' });
    expect(none.status).toBe(422);
    expect(none.text).toContain('Count at least one of the two; none is 0.');
    const part = await app.helper.post(`/cultures/${code}/tally`, {
      method: 'sample',
      adults: 7,
      juveniles: 4,
    });
    expect(part.status).toBe(422);
    expect(part.text).toContain('value="11"');
    expect(written(app)).toEqual([]);
    const empty = await app.helper.post(`/cultures/${code}/tally`, { method: 'full', adults: 0 });
    expect(empty.status).toBe(303);
  });

  it('has plain number fields, and keys that only a script shows', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const { text } = await app.helper.get(`/cultures/${code}/tally`);
    expect(text).toMatch(/<input[^>]*name="adults"/);
    expect(text.match(/class="tally-keys"/g)).toHaveLength(2);
    const style = readFileSync(new URL('../../static/counting.css', import.meta.url), 'utf8');
    expect(style).toMatch(/@media \(scripting: none\) \{\s*\.tally-keys,[^}]*display: none/);
    expect((await app.helper.get(`/cultures/${code}/count?method=full`)).text).toContain(
      '/tally?method=full',
    );
  });

  it('is put in words', () => {
    expect(tallyWords({ adults: 40, juveniles: 1 })).toBe('40 adults, 1 juvenile.');
    expect(tallyWords({ adults: 0 })).toBe('0 adults.');
  });
});

describe('catches one after another', () => {
  it('keep the earlier ones, page by page, and end as a removal count', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const at = `/cultures/${code}/catches`;
    const first = await app.helper.post(at, { done: '', caught: 77, go: 'on' });
    expect(first.headers.location).toBe(`${at}?done=77`);
    const second = await app.helper.post(at, { done: '77', caught: 50, go: 'on' });
    expect(second.headers.location).toBe(`${at}?done=77%2C50`);
    const page = await app.helper.get(String(second.headers.location));
    expect(page.text).toContain('Catch 3 of');
    expect(page.text).toContain('127 animals are out of the enclosure');
    expect(written(app)).toEqual([]);
    const last = await app.helper.post(at, { done: '77,50', caught: 37, go: 'done' });
    expect(last.headers.location).toBe(`/cultures/${code}`);
    expect(written(app)).toMatchObject([
      { count: { method: 'removal', catches: [77, 50, 37], estimator: 'carle-strub' } },
    ]);
  });

  it('may be two, and are refused where they do not decline, with nothing lost', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const at = `/cultures/${code}/catches`;
    const wrong = await app.helper.post(at, { done: '20', caught: 30, go: 'done' });
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('do not decline');
    expect(wrong.text).toContain('value="20"');
    expect(wrong.text).toContain('value="30"');
    const none = await app.helper.post(at, { done: '20', caught: 'x', go: 'done' });
    expect(none.status).toBe(422);
    expect(none.text).toContain('value="20"');
    await app.helper.post(at, { done: '60', caught: 20, go: 'done' });
    expect(written(app)).toMatchObject([{ count: { method: 'removal', catches: [60, 20] } }]);
  });

  it('in an address are numbers or nothing', () => {
    expect(catchesSoFar('12,7')).toEqual([12, 7]);
    for (const text of ['', 'x', '1,,2', '-1', '1;2', undefined, ['1'], '9'.repeat(400)])
      expect(catchesSoFar(text)).toEqual([]);
    expect(catchesSoFar('1,2,3,4,5,6,7')).toHaveLength(5);
    expect(catchFields([3, 2])).toEqual({ catch1: '3', catch2: '2' });
  });
});
