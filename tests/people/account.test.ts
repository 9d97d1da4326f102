import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { beginTry } from '../../server/people/queries-tries.ts';
import { passwordMatches } from '../../server/plumbing/passwords.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { audit, people, sessions } from '../../server/schema/tables.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, type TestApp, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

const fresh = 'three brown snails';
const change = { current: goodPassword, password: fresh, again: fresh };
const rowOf = (t: TestApp) => t.db.select().from(people).where(eq(people.id, cast.helper.id)).get();
const secondSession = async (t: TestApp) =>
  new Visitor(t.app, await makeSessions(t.db, t.clock).begin(cast.helper.id, 'Firefox/140.0 Windows'));

describe('the own account', () => {
  it('changes name and colours, and notes the name', async () => {
    const t = await testApp();
    const answer = await t.helper.save('/account', { name: ' Hal  Holder ', scheme: 'dark', role: 'owner' });
    expect([answer.status, answer.headers.location]).toEqual([303, '/account']);
    expect(rowOf(t)).toMatchObject({ name: 'Hal Holder', scheme: 'dark', role: 'helper' });
    const page = await t.helper.get('/account');
    expect(page.text).toContain('data-scheme="dark"');
    expect(page.text).toContain('Saved.');
    expect(t.db.select().from(audit).all().at(-1)).toMatchObject({ after: '{"name":"Hal Holder"}' });
  });

  it('keeps what was typed when it is wrong', async () => {
    const t = await testApp();
    const answer = await t.helper.post('/account', { name: 'x'.repeat(130), scheme: 'pink' });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('x'.repeat(130));
    expect(answer.text).toContain('Choose one.');
  });
});

describe('the own password', () => {
  it('asks for the old one, ends the other sessions, and acts once', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    const other = await secondSession(t);
    const formKey = 'the-same-form-key-0002';
    const answer = await t.helper.post('/account/password', change, { formKey });
    expect([answer.status, answer.headers.location]).toEqual([303, '/account']);
    const stored = rowOf(t)?.passwordHash ?? '';
    expect(await passwordMatches(stored, fresh)).toBe(true);
    expect((await other.get('/account')).status).toBe(303);
    expect((await t.helper.get('/account')).text).toContain('Your password is changed.');
    expect((await t.helper.post('/account/password', change, { formKey })).status).toBe(303);
    expect(rowOf(t)?.passwordHash).toBe(stored);
  });

  it('stays when the old one is wrong, the new one weak, or the two differ', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    const before = rowOf(t)?.passwordHash;
    const wrong = await t.helper.post('/account/password', { ...change, current: 'not this one at all' });
    expect(wrong.text).toContain('This is not your password.');
    const weak = await t.helper.post('/account/password', { ...change, password: 'short', again: 'short' });
    expect(weak.text).toContain('at least 15 characters');
    const differ = await t.helper.post('/account/password', { ...change, again: `${fresh}!` });
    expect(differ.text).toContain('not the same as above');
    for (const answer of [wrong, weak, differ]) {
      expect(answer.status).toBe(422);
      expect(answer.text).not.toContain(fresh);
    }
    expect(rowOf(t)?.passwordHash).toBe(before);
  });

  it('cannot be guessed at from a browser left open', async () => {
    const t = await testApp();
    const claim = { signInName: `change ${cast.helper.id}`, address: '192.0.2.1', knownDevice: null };
    for (let count = 0; count < 9; count += 1) beginTry(t.db, claim, t.clock.now());
    await t.helper.csrf();
    const tries = Array.from({ length: 3 }, () => t.helper.post('/account/password', change));
    const answers = await Promise.all(tries);
    expect(answers.filter((answer) => answer.status === 429)).toHaveLength(2);
  });
});

describe('own sessions', () => {
  it('are listed with device and can be ended one by one', async () => {
    const t = await testApp();
    const other = await secondSession(t);
    const page = await t.helper.get('/account');
    expect(page.text).toContain('Firefox on Windows');
    expect(page.text).toContain('(this one)');
    const row = t.db.select().from(sessions).where(eq(sessions.device, 'Firefox/140.0 Windows')).get();
    expect((await t.helper.post(`/account/sessions/${row?.id}/end`)).headers.location).toBe('/account');
    expect((await other.get('/account')).status).toBe(303);
    expect((await t.helper.post(`/account/sessions/${row?.id}/end`)).status).toBe(404);
  });

  it('of others are not there to end', async () => {
    const t = await testApp();
    const row = t.db.select().from(sessions).where(eq(sessions.userId, cast.owner.id)).get();
    expect((await t.helper.post(`/account/sessions/${row?.id}/end`)).status).toBe(404);
    expect((await t.owner.get('/account')).status).toBe(200);
  });

  it('can be ended all but this one, and this one too', async () => {
    const t = await testApp();
    const other = await secondSession(t);
    await t.helper.post('/account/sessions/end-others');
    expect((await other.get('/account')).status).toBe(303);
    expect((await t.helper.get('/account')).text).toContain('1 other session has ended.');
    const own = t.db.select().from(sessions).where(eq(sessions.userId, cast.helper.id)).get();
    expect((await t.helper.post(`/account/sessions/${own?.id}/end`)).headers.location).toBe('/sign-in');
    expect((await t.helper.get('/account')).status).toBe(303);
  });
});
