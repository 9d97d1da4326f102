import { eq } from 'drizzle-orm';
import { beforeEach, describe, expect, it } from 'vitest';
import { codeAt, freshSecret } from '../../server/people/one-time-codes.ts';
import { addLink } from '../../server/people/queries-links.ts';
import { beginFactor, confirmFactor } from '../../server/people/queries-second-factor.ts';
import { renewSetUpLink } from '../../server/people/set-up.ts';
import { freshToken, sha256 } from '../../server/plumbing/sessions.ts';
import { formKeys, knownDevices, people, sessions } from '../../server/schema/tables.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { type BareApp, bareApp, cast, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

/** How many people there are afterwards, where it is not the cast alone. */
const here: Record<string, number> = { 'an invitation': 3, 'the set-up': 1 };
const formKey = 'let-in-by-this-very-form';
type Way = { t: BareApp; path: string; fields: Record<string, string> };

/** Each way to be let in, as far as the form that does it. */
const ways: Record<string, () => Promise<Way>> = {
  async 'a password'() {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    return { t, path: '/sign-in', fields: { signInName: 'helper', password: goodPassword } };
  },
  async 'a code'() {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    const secret = freshSecret();
    beginFactor(t.db, cast.helper.id, secret, t.clock.now());
    confirmFactor(t.db, cast.helper.id, 0, t.clock.now());
    const half = await t.outsider.post('/sign-in', { signInName: 'helper', password: goodPassword });
    const token = /name="token" value="([^"]+)"/.exec(half.text)?.[1] ?? '';
    return { t, path: '/sign-in/code', fields: { token, code: codeAt(secret, t.clock.now()) } };
  },
  async 'an invitation'() {
    const t = await testApp();
    const token = freshToken();
    addLink(t.db, { token, purpose: 'invitation', role: 'helper', name: 'Pat', now: t.clock.now() });
    const chosen = { name: 'Pat', signInName: 'pat', password: goodPassword, again: goodPassword };
    return { t, path: '/invitation', fields: { token, ...chosen } };
  },
  async 'a new password'() {
    const t = await testApp();
    const token = freshToken();
    addLink(t.db, { token, purpose: 'reset', personId: cast.helper.id, now: t.clock.now() });
    return { t, path: '/new-password', fields: { token, password: goodPassword, again: goodPassword } };
  },
  async 'the set-up'() {
    const t = await bareApp();
    const token = renewSetUpLink(t.db, t.clock.now()) ?? '';
    const owner = { name: 'Olive', signInName: 'olive', password: goodPassword, again: goodPassword };
    const place = { country: 'DE', timeZone: 'Europe/Berlin', currency: 'EUR', units: 'metric', paper: 'A4' };
    return { t, path: '/set-up', fields: { token, businessName: 'Leafmould Lane', ...owner, ...place } };
  },
};

const cookieIn = (answer: { headers: Record<string, string> }) =>
  String(answer.headers['set-cookie']).match(/broodbench=([^;]+)/)?.[1] ?? '';

/**
 * As it stands when the service has been started anew: the session is there, and nobody can make its value again, since the
 * key that it was made with is gone.
 */
function asAfterRestart({ db }: BareApp, value: string) {
  const id = sha256('made with the key of before');
  db.update(sessions)
    .set({ id })
    .where(eq(sessions.id, sha256(value)))
    .run();
  db.update(formKeys)
    .set({ outcome: JSON.stringify({ turn: 0, id }) })
    .where(eq(formKeys.path, 'session'))
    .run();
}

describe.each(Object.entries(ways))('somebody let in by %s', (name, make) => {
  let way: Way;
  /** Those of the cast were begun by no form and name a device. */
  const begun = () => way.t.db.select().from(sessions).where(eq(sessions.device, '')).all().length;
  const send = (visitor: Visitor) => visitor.post(way.path, way.fields, { formKey });
  const opens = async (value: string) =>
    (await new Visitor(way.t.app, `broodbench=${value}`).get('/account')).status === 200;

  beforeEach(async () => {
    way = await make();
  });

  it('has one session however often the form comes, also after a restart', async () => {
    const { t } = way;
    await t.outsider.csrf();
    const all = await Promise.all([1, 2, 3].map(() => send(t.outsider)));
    const [first] = all;
    const value = cookieIn(first!);
    expect(all.map(({ status, headers }) => [status, headers.location])).toEqual(
      all.map(() => [303, first!.headers.location]),
    );
    expect(new Set(all.map(cookieIn))).toEqual(new Set([value]));
    expect([begun(), await opens(value)]).toEqual([1, true]);

    asAfterRestart(t, value);
    const again = [await send(t.outsider), await send(t.outsider)];
    expect(again.map(({ headers }) => headers.location)).toEqual([1, 2].map(() => first!.headers.location));
    expect(new Set(again.map(cookieIn)).size).toBe(1);
    expect([begun(), await opens(cookieIn(again[0]!)), await opens(value)]).toEqual([1, true, false]);
    const kept = JSON.stringify([t.db.select().from(formKeys).all(), t.db.select().from(knownDevices).all()]);
    for (const secret of [value, cookieIn(again[0]!), way.fields.token ?? goodPassword])
      expect(kept).not.toContain(secret);
    expect(t.db.select().from(people).all()).toHaveLength(here[name] ?? 2);
  });

  it('is not let in by it again once the session has ended, after ten minutes, or by another form', async () => {
    if (name === 'a password') return expect((await send(way.t.outsider)).status).toBe(303);
    const { t } = way;
    const value = cookieIn(await send(t.outsider));
    const stranger = new Visitor(t.app, null);
    expect(cookieIn(await stranger.post(way.path, way.fields))).toBe('');
    t.clock.at += 10 * 60_000;
    expect(cookieIn(await send(stranger))).toBe('');
    t.clock.at -= 5 * 60_000;
    t.db
      .delete(sessions)
      .where(eq(sessions.id, sha256(value)))
      .run();
    expect(cookieIn(await send(stranger))).toBe('');
    expect(begun()).toBe(0);
  });
});
