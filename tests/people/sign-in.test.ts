import { hash } from '@node-rs/argon2';
import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { beginTry } from '../../server/people/queries-tries.ts';
import { isCheaper, nobodysHash } from '../../server/plumbing/passwords.ts';
import { knownDevices, people, sessions, signInTries } from '../../server/schema/tables.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, type TestApp, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

const minute = 60_000;
const right = { signInName: 'helper', password: goodPassword };
const wrong = { signInName: 'helper', password: 'moss under the new oak' };

async function withPassword() {
  const t = await testApp();
  await givePassword(t, cast.helper.id);
  return t;
}

describe('sign-in', () => {
  it('opens the pages of the role', async () => {
    const t = await withPassword();
    expect((await t.outsider.get('/account')).headers.location).toBe('/sign-in?next=%2Faccount');
    const answer = await t.outsider.post('/sign-in', { ...right, signInName: ' HELPER ' });
    expect([answer.status, answer.headers.location]).toEqual([303, '/']);
    expect((await t.outsider.get('/account')).status).toBe(200);
    expect((await t.outsider.get('/people')).status).toBe(403);
    expect((await t.outsider.get('/sign-in')).headers.location).toBe('/');
  });

  it('says the same for a wrong password, a wrong name and an account that is not active', async () => {
    const t = await withPassword();
    const seen = new Set<string>();
    const tries = [wrong, { ...right, signInName: 'nobody' }];
    t.db.update(people).set({ active: false }).where(eq(people.id, cast.helper.id)).run();
    for (const form of [...tries, right]) {
      const answer = await t.outsider.post('/sign-in', form);
      expect(answer.status).toBe(422);
      expect(answer.text).toContain('do not belong together');
      expect(answer.text).not.toContain(form.password);
      expect(answer.headers['set-cookie']).toBeUndefined();
      seen.add(
        answer.text
          .replaceAll(form.signInName, '')
          .replace(/name="_csrf" value="[^"]+"|formKey" value="[^"]+"|csrf-token[^}]+/g, ''),
      );
    }
    expect(seen.size).toBe(1);
  });

  it.each([
    ['deactivated', { active: false }],
    ['given a reset', { passwordHash: 'none' }],
  ])('does not open an account that is %s while the password is looked at', async (_what, change) => {
    const t = await withPassword();
    await t.outsider.csrf();
    const answer = t.outsider.post('/sign-in', right);
    // The try is written down just before the password is looked at, which takes a tenth of a second.
    while (t.db.select().from(signInTries).all().length === 0) await new Promise(setImmediate);
    t.db.update(people).set(change).where(eq(people.id, cast.helper.id)).run();
    expect((await answer).status).toBe(422);
    expect(t.db.select().from(sessions).where(eq(sessions.device, '')).all()).toEqual([]);
    expect((await t.outsider.get('/account')).status).toBe(303);
  });

  it('compares a name that nobody has with a hash of the same cost', () => {
    expect(isCheaper(nobodysHash)).toBe(false);
  });

  it('asks for what is missing', async () => {
    const t = await testApp();
    const answer = await t.outsider.post('/sign-in', {});
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('Type your sign-in name.');
    expect(answer.text).toContain('Type your password.');
  });

  it('lets an account that waits for a new password in with none', async () => {
    const t = await testApp();
    for (const password of ['none', 'x'])
      expect((await t.outsider.post('/sign-in', { signInName: 'helper', password })).status).toBe(422);
  });

  it('makes a hash of a lower cost anew', async () => {
    const t = await testApp();
    const cheap = await hash(goodPassword, { memoryCost: 19_456, timeCost: 2, parallelism: 1 });
    t.db.update(people).set({ passwordHash: cheap }).where(eq(people.id, cast.helper.id)).run();
    expect((await t.outsider.post('/sign-in', right)).status).toBe(303);
    const stored = t.db.select().from(people).where(eq(people.id, cast.helper.id)).get();
    expect(stored?.passwordHash).toContain('m=65536,t=3');
    expect((await t.outsider.post('/sign-in', right)).status).toBe(303);
  });

  it.each([
    ['/people?x=1', '/people?x=1'],
    ['//example.org', '/'],
    ['/\\example.org', '/'],
    ['https://example.org/', '/'],
    ['/%2f%2fexample.org', '/'],
  ])('goes on to %s as %s', async (next, to) => {
    const t = await withPassword();
    const form = await t.outsider.get(`/sign-in?next=${encodeURIComponent(next)}`);
    expect(form.text.includes('example.org')).toBe(false);
    const answer = await t.outsider.post('/sign-in', { ...right, next });
    expect(answer.headers.location).toBe(to);
  });
});

describe('sessions', () => {
  it('are new at each sign-in, and the one before ends', async () => {
    const t = await withPassword();
    const planted = new Visitor(t.app, 'broodbench=planted-by-somebody');
    await planted.post('/sign-in', right);
    const [first] = t.db
      .select()
      .from(sessions)
      .where(eq(sessions.userId, cast.helper.id))
      .orderBy(sessions.madeAt)
      .all();
    expect(first).toBeDefined();
    const before = t.db.select().from(sessions).all().length;
    const again = await planted.post('/sign-in', right);
    const cookie = String(again.headers['set-cookie']);
    expect(cookie).not.toContain('planted');
    expect(t.db.select().from(sessions).all()).toHaveLength(before);
  });

  it('are kept only as a hash of 256 random bits', async () => {
    const t = await withPassword();
    const answer = await t.outsider.post('/sign-in', right);
    const value = /broodbench=([^;]+)/.exec(String(answer.headers['set-cookie']))?.[1] ?? '';
    expect(Buffer.from(value, 'base64url')).toHaveLength(32);
    expect(JSON.stringify(t.db.select().from(sessions).all())).not.toContain(value);
  });

  it('end at sign-out, also for whoever kept the cookie', async () => {
    const t = await withPassword();
    const answer = await t.outsider.post('/sign-in', right);
    const kept = /broodbench=[^;]+/.exec(String(answer.headers['set-cookie']))?.[0] ?? '';
    const thief = new Visitor(t.app, kept);
    expect((await thief.get('/account')).status).toBe(200);
    expect((await t.outsider.post('/sign-out')).headers.location).toBe('/sign-in');
    expect((await thief.get('/account')).status).toBe(303);
    expect((await t.outsider.post('/sign-out')).status).toBe(303);
  });

  it('end after 30 days without a visit', async () => {
    const t = await testApp();
    t.clock.forward(29);
    expect((await t.helper.get('/account')).status).toBe(200);
    t.clock.forward(29);
    expect((await t.helper.get('/account')).status).toBe(200);
    t.clock.forward(31);
    expect((await t.helper.get('/account')).status).toBe(303);
    t.clock.forward(-31);
    expect((await t.helper.get('/account')).status).toBe(303);
  });

  it('end after 90 days whatever happens', async () => {
    const t = await testApp();
    for (let day = 0; day < 90; day += 18) {
      expect((await t.helper.get('/account')).status).toBe(200);
      t.clock.forward(18);
    }
    expect((await t.helper.get('/account')).status).toBe(200);
    t.clock.forward(1);
    expect((await t.helper.get('/account')).status).toBe(303);
  });

  it('are carried by a cookie that scripts and other sites cannot use', async () => {
    const t = await testApp({ BASE_URL: 'https://bench.example.org' });
    await givePassword(t, cast.helper.id);
    const answer = await t.outsider.post('/sign-in', right);
    const cookies = answer.headers['set-cookie'] as unknown as string[];
    expect(cookies.map((cookie) => cookie.split('=')[0]).sort()).toEqual([
      '__Host-broodbench',
      '__Host-broodbench-device',
    ]);
    const form = await new Visitor(t.app, null).get('/sign-in');
    for (const cookie of [...cookies, ...(form.headers['set-cookie'] as unknown as string[])]) {
      expect(cookie).toMatch(/^__Host-/);
      for (const attribute of [/; HttpOnly/i, /; Secure/i, /; SameSite=Lax/i, /; Path=\/(;|$)/i])
        expect(cookie).toMatch(attribute);
      expect(cookie).not.toMatch(/; Domain/i);
    }
  });
});

const wrongTries = (t: TestApp, tries: number) => {
  for (let count = 0; count < tries; count += 1)
    beginTry(t.db, { signInName: 'helper', address: '192.0.2.1', knownDevice: null }, t.clock.now());
};

describe('guessing', () => {
  it('stops after 10 wrong tries, says when to try again, and then goes on', async () => {
    const t = await withPassword();
    wrongTries(t, 8);
    for (let count = 0; count < 2; count += 1)
      expect((await t.outsider.post('/sign-in', wrong)).status).toBe(422);
    const stopped = await t.outsider.post('/sign-in', right);
    expect(stopped.status).toBe(429);
    expect(stopped.text).toContain('You can try again from 25 Nov 2026, 13:01 on.');
    t.clock.at += 61 * minute;
    expect((await t.outsider.post('/sign-in', right)).status).toBe(303);
    expect(t.db.select().from(signInTries).all()).toEqual([]);
  });

  it('is not made quicker by many at once', async () => {
    const t = await withPassword();
    wrongTries(t, 7);
    await t.outsider.csrf();
    const all = await Promise.all(Array.from({ length: 8 }, () => t.outsider.post('/sign-in', wrong)));
    expect(all.filter((answer) => answer.status === 422)).toHaveLength(3);
    expect(all.filter((answer) => answer.status === 429)).toHaveLength(5);
  });

  it('never locks out a browser that the person has signed in from', async () => {
    const t = await withPassword();
    await t.outsider.post('/sign-in', right);
    await t.outsider.post('/sign-out');
    const stranger = new Visitor(t.app, null);
    wrongTries(t, 10);
    expect((await stranger.post('/sign-in', right)).status).toBe(429);
    expect((await t.outsider.post('/sign-in', right)).status).toBe(303);
    expect(t.db.select().from(knownDevices).all()).toHaveLength(1);
  });

  it('does not believe a browser that makes its device up', async () => {
    const t = await withPassword();
    const liar = new Visitor(t.app, 'broodbench-device=made-up');
    wrongTries(t, 9);
    await liar.post('/sign-in', wrong);
    expect((await liar.post('/sign-in', right)).status).toBe(429);
  });

  it('is not helped by a forged address', async () => {
    const t = await withPassword();
    const forged = (count: number) => ({ headers: { 'X-Forwarded-For': `192.0.2.${count}` } });
    await t.outsider.post('/sign-in', { ...wrong, signInName: 'nobody' }, forged(0));
    await t.outsider.post('/sign-in', { ...wrong, signInName: 'nobody' }, forged(1));
    const addresses = new Set(
      t.db
        .select()
        .from(signInTries)
        .all()
        .map((row) => row.addressHash),
    );
    expect(addresses.size).toBe(1);
  });
});
