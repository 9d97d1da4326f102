import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { rememberDevice } from '../../server/people/queries-tries.ts';
import { knownDevices, sessions } from '../../server/schema/tables.ts';
import { contentsOf } from '../support/contents.ts';
import { knownNames } from '../support/known-names.ts';
import { rounds } from '../support/payloads.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { furnishedBench, posts } from '../support/walk.ts';

/** Sixteen with PAYLOADS=all. */
const atOnce = rounds(3, 16);

/** What counts its visitors, or ends whoever asks: there is no second time, or it is meant to count each. */
const counts = ['sign_in_tries', 'half_sign_ins', 'known_devices', 'sessions', 'link_asks'];
const without = (prints: Record<string, string>) =>
  Object.fromEntries(Object.entries(prints).filter(([name]) => !counts.includes(name)));

/** Where on the page somebody is led to may differ: a mended row is not in the list any more. */
const answerOf = ({ status, headers }: { status: number; headers: Record<string, string> }) =>
  `${status} ${headers.location?.replace(/#.*/, '') ?? ''}`;

// OWASP ASVS 5.0, 2.3.3 and 15.4.2: a form that comes again, by a nervous thumb or a bad line, acts once.
describe('every form', () => {
  it('that comes twice, then many times at once, acts once and is answered alike', async () => {
    const t = await furnishedBench();
    const { forms } = await knownNames(t);
    const wrong: string[] = [];
    let acted = 0;
    await t.owner.csrf();
    for (const { path } of posts(t)) {
      // Each of them ends or begins who asks: see below.
      if (/sign-in|sign-out/.test(path)) continue;
      const address = t.at({ path });
      const usual = (forms.get(path) ?? []).find(({ action }) => action === address) ?? forms.get(path)?.[0];
      const formKey = `repeated-form-${path.replace(/\W/g, '-')}`.slice(0, 120);
      const send = () => t.owner.post(address, usual?.fields ?? {}, { formKey });
      t.sqlite.exec('SAVEPOINT repeated');
      const before = JSON.stringify(without(contentsOf(t.sqlite)));
      const first = await send();
      const after = JSON.stringify(without(contentsOf(t.sqlite)));
      const others = [await send(), ...(await Promise.all(Array.from({ length: atOnce }, send)))];
      // Whoever ended their own session with it is asked to sign in.
      const ended = others.some(({ headers }) => headers.location === '/sign-in');
      if (first.status < 400 && !ended) {
        acted += before === after ? 0 : 1;
        for (const other of others)
          if (answerOf(other) !== answerOf(first))
            wrong.push(`${path}: ${answerOf(first)}, then ${answerOf(other)}`);
      }
      if (JSON.stringify(without(contentsOf(t.sqlite))) !== after)
        wrong.push(`${path}: wrote again (${first.status})`);
      t.sqlite.exec('ROLLBACK TO repeated; RELEASE repeated');
    }
    expect([...new Set(wrong)]).toEqual([]);
    expect(acted).toBeGreaterThan(55);
  }, 240_000);

  it('that signs somebody in begins one session, and none that was ended; signing out twice is out', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    rememberDevice(t.db, cast.helper.id, 'a browser of before', t.clock.now());
    const form = { signInName: 'helper', password: goodPassword, next: '/cultures' };
    const keyed = { formKey: 'the-very-same-form-1' };
    const theirs = () => t.db.select().from(sessions).where(eq(sessions.userId, cast.helper.id)).all().length;
    const before = theirs();
    const [seen, devices] = [new Visitor(t.app, null), () => t.db.select().from(knownDevices).all().length];
    await seen.csrf();
    const nervous = Array.from({ length: atOnce }, () => seen.post('/sign-in', form, keyed));
    const answers = [...(await Promise.all(nervous)), await seen.post('/sign-in', form, keyed)];
    expect(new Set(answers.map(answerOf))).toEqual(new Set(['303 /cultures']));
    expect([theirs() - before, devices()]).toEqual([1, 2]);
    const [cookie = ''] = (answers[0]?.headers['set-cookie'] as unknown as string[]) ?? [];
    const first = new Visitor(t.app, cookie.split(';')[0] ?? '');
    expect((await first.get('/account')).status).toBe(200);

    for (const _ of [1, 2])
      expect(answerOf(await seen.post('/sign-out', {}, { formKey: 'signs-out-only-once-1' }))).toBe(
        '303 /sign-in',
      );
    expect(theirs()).toBe(before);
    expect((await first.get('/account')).status).toBe(303);
    expect(answerOf(await seen.post('/sign-in', form, keyed))).toBe('303 /cultures');
    expect(theirs() - before).toBe(1);
    expect((await first.get('/account')).status).toBe(303);
  });
});
