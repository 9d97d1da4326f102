import { desc } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { codeAt } from '../../server/people/one-time-codes.ts';
import { mails, secondFactors } from '../../server/schema/tables.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, type TestApp, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

// OWASP ASVS 5.0, 6.3.7: people are told of sign-ins and changes that may not have been theirs.

const withServer = { SMTP_HOST: '127.0.0.1', SMTP_ENCRYPTION: 'none' };
const own = 'hal@example.org';

async function benchWithMail(env: NodeJS.ProcessEnv = withServer): Promise<TestApp> {
  const t = await testApp(env);
  await givePassword(t, cast.helper.id);
  t.sqlite.exec(`UPDATE people SET sign_in_name = '${own}' WHERE id = '${cast.helper.id}'`);
  return t;
}

/** What was written since it was asked last, each as its reader and its subject. */
function newsIn(t: TestApp): string[] {
  const rows = t.db.select().from(mails).orderBy(desc(mails.id)).all();
  t.sqlite.exec('DELETE FROM mails');
  for (const { kind, plain, html } of rows) {
    expect(kind).toBe('account');
    for (const text of [plain, html]) expect(text).not.toMatch(/token|[?&]|\bmoss\b/);
  }
  return rows.map(({ toAddress, subject }) => `${toAddress}: ${subject}`);
}

const signIn = (visitor: Visitor, signInName = own) =>
  visitor.post('/sign-in', { signInName, password: goodPassword });

describe('a person is written to', () => {
  it('when their account is opened in a browser that it was never opened in', async () => {
    const t = await benchWithMail();
    const first = new Visitor(t.app, null);
    expect((await signIn(first)).status).toBe(303);
    expect(newsIn(t)).toEqual([]); // an account that was opened nowhere before has no other browser
    await first.post('/sign-out');
    await signIn(first);
    expect(newsIn(t)).toEqual([]);
    expect((await signIn(new Visitor(t.app, null))).status).toBe(303);
    expect(newsIn(t)).toEqual([`${own}: Your account was opened on a new device`]);
  });

  it('when password or code change, by whoever has changed them', async () => {
    const t = await benchWithMail();
    const where = '/account/second-factor';
    const changed = {
      current: goodPassword,
      password: 'lichen upon the slate',
      again: 'lichen upon the slate',
    };
    expect((await t.helper.post('/account/password', { ...changed, current: 'wrong' })).status).toBe(422);
    expect(newsIn(t)).toEqual([]);
    const formKey = 'form-key-of-the-password';
    for (let times = 0; times < 2; times += 1) await t.helper.post('/account/password', changed, { formKey });
    expect(newsIn(t)).toEqual([`${own}: Your password was changed`]);
    await t.helper.post(`${where}/start`);
    const secret = t.db.select().from(secondFactors).get()?.secret ?? '';
    const code = () => codeAt(secret, t.clock.now());
    await t.helper.post(where, { code: code(), password: changed.password });
    expect(newsIn(t)).toEqual([`${own}: A code is asked for at sign-in from now on`]);
    t.clock.at += 60_000;
    await t.helper.post(`${where}/codes`, { code: code() });
    expect(newsIn(t)).toEqual([`${own}: New recovery codes were made`]);
    await t.owner.post(`/people/${cast.helper.id}/second-factor/remove`);
    expect(newsIn(t)).toEqual([`${own}: No code is asked for at sign-in any more`]);
  });

  it('only where mail goes out and an address is known; an owner without one at the business', async () => {
    const silent = await benchWithMail({});
    for (let times = 0; times < 2; times += 1) await signIn(new Visitor(silent.app, null));
    expect(newsIn(silent)).toEqual([]);
    const t = await benchWithMail();
    t.sqlite.exec(`UPDATE people SET sign_in_name = 'hal' WHERE id = '${cast.helper.id}'`);
    await givePassword(t, cast.owner.id);
    for (const name of ['hal', 'hal', 'owner', 'owner']) await signIn(new Visitor(t.app, null), name);
    expect(newsIn(t)).toEqual(['bench@example.org: Your account was opened on a new device']);
  });
});
