import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { readEstimate } from '../../server/counts/queries-estimate.ts';
import { cultures, diary } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted.ts';
import { behavesLikeAFormPage } from '../support/form-page.ts';
import { rebuiltOf, storedOf } from '../support/rebuild.ts';
import { makeCulture } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

const path = (code: string) => `/cultures/${code}/count`;
const visible = { method: 'visible', counted: '23', onDay: '2026-11-20', note: '' };

describe('the page of a count', () => {
  behavesLikeAFormPage({
    path,
    good: visible,
    bad: { ...visible, counted: 'a few', note: '<script>alert(1)</script>' },
    says: 'Write a number, such as 40',
    keeps: ['value="a few"', '&lt;script>alert(1)&lt;/script>'],
  });
});

/** A culture whose number is known by a full count a month ago. */
const counted = ({ db }: TestApp) => makeCounted(db, 84, { onDay: '2026-10-25' });

/** The words of the notice on a page. */
const noticeIn = (html: string) => /<div class="notice-words">([^<]*)/.exec(html)?.[1];
const lastEntry = ({ db }: TestApp) => db.select().from(diary).all().at(-1);
const lastInput = (app: TestApp) => JSON.parse(lastEntry(app)?.countInput ?? '{}') as object;

const faulty: [Record<string, string>, string][] = [
  [{ method: 'full' }, 'Fill this in.'],
  [{ method: 'full', counted: '-3' }, 'Must be between 0'],
  [{ method: 'full', counted: '1e99' }, 'Write a whole number'],
  [{ method: 'full', counted: '12.5' }, 'Write a whole number'],
  [{ method: 'full', counted: '99999999999' }, 'Must be between 0'],
  [{ method: 'sample', counted: '5' }, 'Say how much was searched.'],
  [{ method: 'sample', counted: '5', fraction: '0.2' }, 'Write a percentage (20 %) or parts'],
  [{ method: 'sample', counted: '5', fraction: '6 of 5' }, 'Write a percentage (20 %) or parts'],
  [{ method: 'removal', catch1: '5' }, 'At least two catches are needed.'],
  [{ method: 'removal', catch1: '20', catch2: '30' }, 'The catches do not decline'],
  [{ method: 'removal', catch1: '0', catch2: '0' }, 'nothing was caught'],
  [
    { method: 'removal', catch1: '9', catch2: '5', catch3: '2', estimator: 'seber-two-pass' },
    'That one works with exactly two catches.',
  ],
  [
    { method: 'mark-recapture', marked: '9', caught: '5', recaptured: '6' },
    'Cannot be more than were marked',
  ],
  [
    { method: 'mark-recapture', marked: '9', caught: '5', recaptured: '0', estimator: 'petersen' },
    'must be more than 0 for petersen',
  ],
];

describe('counting', () => {
  it('shows the fields of the method and no others', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    const fields = async (method: string) => {
      const { text } = await app.helper.get(`${path(code)}?method=${method}`);
      return ['counted', 'fraction', 'catch1', 'marked'].filter((name) => text.includes(`name="${name}"`));
    };
    expect(await fields('visible')).toEqual(['counted']);
    expect(await fields('full')).toEqual(['counted']);
    expect(await fields('sample')).toEqual(['counted', 'fraction']);
    expect(await fields('removal')).toEqual(['catch1']);
    expect(await fields('mark-recapture')).toEqual(['marked']);
    expect(await fields('divination')).toEqual(['counted']);
    const { text } = await app.helper.get(path(code));
    for (const method of ['visible', 'full', 'sample', 'removal', 'mark-recapture'])
      expect(text).toContain(`href="${path(code)}?method=${method}"`);
  });

  it('begins with the method of the last count', async () => {
    const app = await testApp();
    const { code } = counted(app);
    expect((await app.helper.get(path(code))).text).toContain('name="method" value="full"');
  });

  it('says what the count implies alone and what the estimate became', async () => {
    const app = await testApp();
    const { code, id } = counted(app);
    const answer = await app.helper.post(path(code), visible);
    expect(answer.headers.location).toBe(`/cultures/${code}`);
    const { text } = await app.helper.get(`/cultures/${code}`);
    // 23 x (6 + 9) / 6 = 57.5 by the mean share that shows; the doubt is wide, so it is rounded to fives
    expect(noticeIn(text)).toMatch(
      /^Counted. Alone it says about 60 \(35 to 120\); with all that is known: about \d+ \(\d+ to \d+\)\.$/,
    );
    expect(lastInput(app)).toEqual({
      method: 'visible',
      counted: 23,
      detection: { alpha: 6, beta: 9 },
      level: 0.9,
    });
    expect(lastEntry(app)).toMatchObject({
      onDay: '2026-11-20',
      via: 'page',
      madeBy: 'person-helper',
      wording: null,
    });
    expect(readEstimate(app.db, id)?.lastCountOn).toBe('2026-11-20');
    expect(text).toContain('Undo');
  });

  it('keeps rough words of a visible count', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    await app.helper.post(path(code), { ...visible, counted: 'about 40' });
    expect(lastInput(app)).toMatchObject({ counted: 40 });
    expect(lastEntry(app)?.wording).toBe('about 40');
    expect((await app.helper.get(`/cultures/${code}`)).text).toContain('about 40 seen');
    expect(
      (await app.helper.post(path(code), { ...visible, method: 'full', counted: 'about 40' })).status,
    ).toBe(422);
  });

  it('takes the other methods with their defaults', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db, { foundingAnimals: 150, foundingSdLog: 0.4 });
    const send = (fields: Record<string, string>) => app.helper.post(path(code), fields);
    expect((await send({ method: 'sample', counted: '31', fraction: '1 of 5' })).status).toBe(303);
    expect(lastInput(app)).toMatchObject({ method: 'sample', counted: 31, fraction: 0.2, clumping: 4 });
    expect((await send({ method: 'removal', catch1: '77', catch2: '50', catch3: '37' })).status).toBe(303);
    expect(lastInput(app)).toMatchObject({ catches: [77, 50, 37], estimator: 'carle-strub' });
    const marks = { method: 'mark-recapture', marked: '60', caught: '50', recaptured: '15' };
    expect((await send(marks)).status).toBe(303);
    expect(lastInput(app)).toMatchObject({ marked: 60, caught: 50, recaptured: 15, estimator: 'chapman' });
    expect(lastEntry(app)?.onDay).toBe(testToday);
  });

  it('says beside the field what is wrong', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    for (const [fields, says] of faulty) {
      const answer = await app.helper.post(path(code), fields);
      expect(answer.status, says).toBe(422);
      expect(answer.text.includes('class="field-error"') && answer.text.includes(says), says).toBe(true);
    }
    expect(app.db.select().from(diary).all()).toHaveLength(0);
  });

  it('does not swallow a count that contradicts the diary, but writes it when told to', async () => {
    const app = await testApp();
    const { code, id } = counted(app);
    const before = storedOf(app.db, id);
    const absurd = { method: 'full', counted: '90000', onDay: testToday, note: 'really' };
    const asked = await app.helper.post(path(code), absurd);
    expect(asked.status).toBe(422);
    expect(asked.text).toContain('This does not fit what is written before it');
    expect(asked.text).toContain('name="despite" value="contradiction"');
    expect(asked.text).toContain('value="90000"');
    expect(app.db.select().from(diary).all()).toHaveLength(1);
    expect(storedOf(app.db, id)).toEqual(before);
    const told = await app.helper.post(path(code), { ...absurd, despite: 'contradiction' });
    expect(told.status).toBe(303);
    expect(readEstimate(app.db, id)?.fault).toContain('2026-11-25');
    expect((await app.helper.get(`/cultures/${code}`)).text).toContain('Correct the entry that is wrong');
  });

  it('says which later count would not fit any more', async () => {
    const app = await testApp();
    const { code } = counted(app);
    // 3000 the day before all 84 were counted: no colony shrinks so fast by itself.
    const answer = await app.helper.post(path(code), {
      method: 'full',
      counted: '3000',
      onDay: '2026-10-24',
    });
    expect(answer.status).toBe(422);
    expect(answer.text.includes('the count of 2026-10-25 would not fit any more')).toBe(true);
    expect(app.db.select().from(diary).all()).toHaveLength(1);
  });

  it('equals a rebuild when it is dated in the past', async () => {
    const app = await testApp();
    const { code, id } = counted(app);
    for (const [onDay, seen] of [
      ['2026-11-20', '30'],
      ['2026-06-01', '18'],
      ['2026-10-25', '28'],
      ['2026-03-01', '11'],
    ] as const)
      expect((await app.helper.post(path(code), { ...visible, counted: seen, onDay })).status).toBe(303);
    const stored = storedOf(app.db, id);
    expect(stored.points).toHaveLength(5);
    expect(rebuiltOf(app.db, id)).toEqual(stored);
  });

  it('guesses no method', async () => {
    const app = await testApp();
    const { code } = makeCulture(app.db);
    for (const method of ['divination', '', '__proto__'])
      expect((await app.helper.post(path(code), { method, counted: '5' })).status, method).toBe(422);
    expect(app.db.select().from(diary).all()).toHaveLength(0);
  });

  it('is not done in a retired culture', async () => {
    const app = await testApp();
    const { code, id } = makeCulture(app.db);
    app.db.update(cultures).set({ status: 'retired' }).where(eq(cultures.id, id)).run();
    expect((await app.helper.get(path(code))).status).toBe(409);
    expect((await app.helper.post(path(code), visible)).status).toBe(409);
  });
});
