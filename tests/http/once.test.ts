import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { conflict } from '../../server/plumbing/errors.ts';
import { once, outcomeOf } from '../../server/plumbing/once.ts';
import { formKeys, oneTimeLinks, people } from '../../server/schema/tables.ts';
import { cast, type TestApp, testApp } from '../support/test-app.ts';

const formKey = 'one-and-the-same-form-1';
const invite = (t: TestApp) => t.owner.post('/people/invite', { name: 'Pat', role: 'helper' }, { formKey });
const links = (t: TestApp) => t.db.select().from(oneTimeLinks).all();

describe('a form that is sent more than once', () => {
  it('acts once, one after another or all at the same time', async () => {
    const t = await testApp();
    await t.owner.csrf();
    const answers = await Promise.all(Array.from({ length: 8 }, () => invite(t)));
    answers.push(await invite(t));
    expect(new Set(answers.map(({ status }) => status))).toEqual(new Set([200]));
    expect(links(t)).toHaveLength(1);
  });

  it('acts again with a key of its own, by another person or at another address', async () => {
    const t = await testApp();
    const form = { key: formKey, personId: cast.owner.id, path: '/a', now: 1 };
    let done = 0;
    const work = () => {
      done += 1;
      return { done };
    };
    expect(once(t.db, form, work)).toEqual({ done: 1 });
    expect(once(t.db, form, work)).toEqual({ done: 1 });
    for (const other of [{ key: `${formKey}x` }, { personId: cast.helper.id }, { path: '/b' }])
      once(t.db, { ...form, ...other }, work);
    expect(done).toBe(4);
    expect(outcomeOf(t.db, form)).toEqual({ done: 1 });
    expect(outcomeOf(t.db, { ...form, path: '/c' })).toBeNull();
  });

  it('may act the second time when the first did nothing', async () => {
    const t = await testApp();
    const form = { key: formKey, personId: cast.owner.id, path: '/a', now: 1 };
    const fails = () =>
      once(t.db, form, (tx) => {
        tx.update(people).set({ name: 'Changed' }).where(eq(people.id, cast.owner.id)).run();
        throw conflict('not now');
      });
    expect(fails).toThrow('not now');
    expect(t.db.select().from(people).where(eq(people.id, cast.owner.id)).get()?.name).toBe(cast.owner.name);
    expect(t.db.select().from(formKeys).all()).toEqual([]);
    expect(once(t.db, form, () => 'done')).toBe('done');
  });

  it.each(['', 'short', 'x'.repeat(121), 'with a space in it all'])(
    'is refused with the key "%s"',
    async (key) => {
      const t = await testApp();
      const answer = await t.owner.post('/people/invite', { name: 'Pat', role: 'helper' }, { formKey: key });
      expect(answer.status).toBe(400);
      expect(links(t)).toEqual([]);
    },
  );
});
