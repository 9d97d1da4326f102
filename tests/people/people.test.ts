import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { audit, oneTimeLinks, people, sessions } from '../../server/schema/tables.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, type TestApp, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

const helper = `/people/${cast.helper.id}`;
const owner = `/people/${cast.owner.id}`;

const rowOf = (t: TestApp, id: string) => t.db.select().from(people).where(eq(people.id, id)).get();
const sessionsOf = (t: TestApp, id: string) =>
  t.db.select().from(sessions).where(eq(sessions.userId, id)).all();
const lastNote = (t: TestApp) => t.db.select().from(audit).all().at(-1);

/** The one-time link as the page shows it, without the host. */
function linkIn(text: string): string {
  const found = /value="http:\/\/127\.0\.0\.1:4780(\/[^"]+)"/.exec(text)?.[1];
  if (!found) throw new Error('the page shows no link');
  return found;
}
const tokenOf = (link: string) => new URLSearchParams(link.split('?')[1]).get('token') ?? '';

async function invited(t: TestApp, role = 'helper') {
  const answer = await t.owner.post('/people/invite', { name: 'Pat Packer', role });
  expect(answer.status).toBe(200);
  return linkIn(answer.text);
}

const joins = { name: 'Pat Packer', signInName: 'pat', password: goodPassword, again: goodPassword };

describe('the people page', () => {
  it('lists people with role, state and sessions, to owners only', async () => {
    const t = await testApp();
    const answer = await t.owner.get('/people');
    expect(answer.status).toBe(200);
    for (const words of ['Olive Owner', 'Hal Helper', 'Helper', 'Waits for a new password'])
      expect(answer.text).toContain(words);
    expect((await t.helper.get('/people')).status).toBe(403);
    expect((await t.outsider.get('/people')).status).toBe(303);
    expect((await t.owner.get('/people/nobody')).status).toBe(404);
    expect((await t.owner.get(helper)).text).toContain('signs in as helper');
  });
});

describe('an invitation', () => {
  it('is a link, shown once, that makes an account and opens once', async () => {
    const t = await testApp();
    const link = await invited(t);
    expect(JSON.stringify(t.db.select().from(oneTimeLinks).all())).not.toContain(tokenOf(link));
    const list = await t.owner.get('/people');
    expect(list.text).toContain('Pat Packer');
    expect(list.text).not.toContain(tokenOf(link));

    const form = await t.outsider.get(link);
    expect(form.status).toBe(200);
    expect(form.text).toContain('value="Pat Packer"');
    const joined = await t.outsider.post('/invitation', { ...joins, token: tokenOf(link) });
    expect([joined.status, joined.headers.location]).toEqual([303, '/']);
    expect((await t.outsider.get('/account')).text).toContain('Helper, signed in as pat.');
    const [pat] = t.db.select().from(people).where(eq(people.signInName, 'pat')).all();
    expect(pat).toMatchObject({ role: 'helper', madeBy: cast.owner.id });

    for (const again of [
      await t.outsider.get(link),
      await t.outsider.post('/invitation', { ...joins, signInName: 'pat2', token: tokenOf(link) }),
    ]) {
      expect(again.status).toBe(410);
      expect(again.text).toContain('does not open any more');
    }
    expect(t.db.select().from(people).all()).toHaveLength(3);
  });

  it('sent twice makes one link, and shows it both times', async () => {
    const t = await testApp();
    const formKey = 'the-same-form-key-0001';
    const send = () => t.owner.post('/people/invite', { name: 'Pat', role: 'helper' }, { formKey });
    const links = [linkIn((await send()).text), linkIn((await send()).text)];
    expect(links[0]).toBe(links[1]);
    expect(t.db.select().from(oneTimeLinks).all()).toHaveLength(1);
    expect(JSON.stringify(t.sqlite.prepare('SELECT * FROM form_keys').all())).not.toContain(
      tokenOf(links[0] ?? ''),
    );
  });

  it('gives the role it was made for, whatever the form says', async () => {
    const t = await testApp();
    const token = tokenOf(await invited(t));
    await t.outsider.post('/invitation', { ...joins, token, role: 'owner' });
    expect((await t.outsider.get('/people')).status).toBe(403);
    const ownerToken = tokenOf(await invited(t, 'owner'));
    const second = new Visitor(t.app, null);
    await second.post('/invitation', { ...joins, signInName: 'oscar', token: ownerToken });
    expect((await second.get('/people')).status).toBe(200);
  });

  it('does not take a name that somebody has, whatever its case', async () => {
    const t = await testApp();
    const token = tokenOf(await invited(t));
    const answer = await t.outsider.post('/invitation', { ...joins, signInName: 'HELPER', token });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('Somebody here has this name already');
    expect(answer.text).toContain('value="HELPER"');
  });

  it('is over after 7 days, and when it is withdrawn', async () => {
    const t = await testApp();
    const link = await invited(t);
    t.clock.forward(6.99);
    expect((await t.outsider.get(link)).status).toBe(200);
    t.clock.forward(0.02);
    expect((await t.outsider.get(link)).status).toBe(410);

    const second = await invited(t);
    const key = t.db.select().from(oneTimeLinks).all().at(-1)?.tokenHash ?? '';
    const page = await t.owner.get('/people');
    expect(page.text).toContain(`/people/invitations/`);
    const newest = t.db.select().from(oneTimeLinks).where(eq(oneTimeLinks.madeAt, t.clock.now())).get();
    const withdrawn = await t.owner.post(`/people/invitations/${newest?.tokenHash ?? key}/withdraw`);
    expect([withdrawn.status, withdrawn.headers.location]).toEqual([303, '/people']);
    expect((await t.outsider.get(second)).status).toBe(410);
    expect((await t.owner.post(`/people/invitations/${newest?.tokenHash}/withdraw`)).status).toBe(404);
  });

  it('asks for a name and a role', async () => {
    const t = await testApp();
    const answer = await t.owner.post('/people/invite', { name: ' ', role: 'admin' });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('Choose what this person may do.');
    expect(t.db.select().from(oneTimeLinks).all()).toEqual([]);
  });
});

describe('a reset', () => {
  it('stops the old password and the sessions at once, and lets the person choose a new one', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    const answer = await t.owner.post(`${helper}/reset`);
    expect(answer.status).toBe(200);
    const link = linkIn(answer.text);
    expect((await t.helper.get('/account')).status).toBe(303);
    const old = { signInName: 'helper', password: goodPassword };
    expect((await t.outsider.post('/sign-in', old)).status).toBe(422);

    expect((await t.outsider.get(link)).text).toContain('For the sign-in name helper.');
    const chosen = { password: 'three brown snails', again: 'three brown snails', token: tokenOf(link) };
    const weak = await t.outsider.post('/new-password', {
      ...chosen,
      password: 'hal helper helper',
      again: 'hal helper helper',
    });
    expect(weak.status).toBe(422);
    expect((await t.outsider.post('/new-password', chosen)).headers.location).toBe('/');
    expect((await t.outsider.get('/account')).status).toBe(200);
    expect((await t.outsider.get(link)).status).toBe(410);
    expect((await t.outsider.post('/new-password', chosen)).status).toBe(410);
    const signsIn = new Visitor(t.app, null);
    expect((await signsIn.post('/sign-in', { ...old, password: chosen.password })).status).toBe(303);
  });

  it('is over after 24 hours, when a newer one is made, and when the account is deactivated', async () => {
    const t = await testApp();
    const link = async () => linkIn((await t.owner.post(`${helper}/reset`)).text);
    const first = await link();
    const second = await link();
    expect((await t.outsider.get(first)).status).toBe(410);
    expect((await t.outsider.get(second)).status).toBe(200);
    t.clock.forward(1);
    expect((await t.outsider.get(second)).status).toBe(410);
    const third = await link();
    await t.owner.post(`${helper}/deactivate`);
    expect((await t.outsider.get(third)).status).toBe(410);
    expect((await t.owner.post(`${helper}/reset`)).status).toBe(409);
  });

  it('opens nothing as an invitation, nor the other way round', async () => {
    const t = await testApp();
    const reset = tokenOf(linkIn((await t.owner.post(`${helper}/reset`)).text));
    const invitation = tokenOf(await invited(t));
    expect((await t.outsider.get(`/invitation?token=${reset}`)).status).toBe(410);
    expect((await t.outsider.get(`/new-password?token=${invitation}`)).status).toBe(410);
  });

  it('is not for oneself', async () => {
    const t = await testApp();
    expect((await t.owner.post(`${owner}/reset`)).status).toBe(409);
    expect((await t.owner.get(owner)).text).not.toContain('Reset the password');
  });
});

describe('role and account', () => {
  it('a new role ends the sessions and is written down', async () => {
    const t = await testApp();
    const answer = await t.owner.save(`${helper}/role`, { role: 'owner' }, helper);
    expect(answer.headers.location).toBe(helper);
    expect((await t.owner.get(helper)).text).toContain('Hal Helper is an owner from now on');
    expect(rowOf(t, cast.helper.id)?.role).toBe('owner');
    expect(sessionsOf(t, cast.helper.id)).toEqual([]);
    expect(lastNote(t)).toMatchObject({
      personId: cast.owner.id,
      action: 'changed role',
      subject: `person ${cast.helper.id}`,
      before: '{"role":"helper"}',
      after: '{"role":"owner"}',
    });
  });

  it('keeps at least one active owner', async () => {
    const t = await testApp();
    for (const [path, form] of [
      [`${owner}/role`, { role: 'helper' }],
      [`${owner}/deactivate`, {}],
    ] as const) {
      const answer = await t.owner.post(path, form);
      expect(answer.status).toBe(409);
      expect(answer.text).toContain('is the only active owner');
    }
    expect(rowOf(t, cast.owner.id)).toMatchObject({ role: 'owner', active: true });
    await t.owner.save(`${helper}/role`, { role: 'owner' }, helper);
    await t.owner.post(`${helper}/deactivate`);
    expect((await t.owner.post(`${owner}/deactivate`)).status).toBe(409);
    await t.owner.post(`${helper}/activate`);
    expect((await t.owner.save(`${owner}/role`, { role: 'helper' }, owner)).status).toBe(303);
    expect((await t.owner.get('/people')).status).toBe(303);
  });

  it('deactivated, a person is out at once; activated, they can sign in again', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    await t.owner.post(`${helper}/deactivate`);
    expect((await t.helper.get('/account')).status).toBe(303);
    const form = { signInName: 'helper', password: goodPassword };
    expect((await t.outsider.post('/sign-in', form)).status).toBe(422);
    expect((await t.owner.get(helper)).text).toContain('Not active');
    await t.owner.post(`${helper}/activate`);
    expect((await t.outsider.post('/sign-in', form)).status).toBe(303);
  });

  it.each([
    ['deactivated', 'deactivate', {}],
    ['made a helper', 'role', { role: 'helper' }],
  ])('once %s, an owner lets nobody in by a link they had handed out', async (_what, action, fields) => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    const second = new Visitor(t.app, null);
    const joined = { ...joins, signInName: 'oscar', token: tokenOf(await invited(t, 'owner')) };
    await second.post('/invitation', joined);
    const theirs = linkIn((await second.post('/people/invite', { name: 'Oscar again', role: 'owner' })).text);
    const reset = linkIn((await second.post(`${helper}/reset`)).text);
    const ours = await invited(t);
    for (const link of [theirs, reset, ours]) expect((await t.outsider.get(link)).status).toBe(200);

    const oscar = t.db.select().from(people).where(eq(people.signInName, 'oscar')).get()?.id;
    const end = (id: string) =>
      action === 'role'
        ? t.owner.save(`/people/${id}/role`, fields, `/people/${id}`)
        : t.owner.post(`/people/${id}/${action}`, fields);
    expect((await end(String(oscar))).status).toBe(303);
    for (const link of [theirs, reset]) expect((await t.outsider.get(link)).status).toBe(410);
    const back = await t.outsider.post('/invitation', { ...joins, token: tokenOf(theirs) });
    expect(back.status).toBe(410);
    expect((await t.outsider.get(ours)).status).toBe(200);
  });

  it('all sessions of a person can be ended', async () => {
    const t = await testApp();
    await t.owner.post(`${helper}/end-sessions`);
    expect((await t.helper.get('/account')).status).toBe(303);
    expect((await t.owner.get('/account')).status).toBe(200);
    expect(lastNote(t)?.action).toBe('ended all sessions');
  });

  it('no page shows a hash, and no note holds a secret', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    for (const path of ['/people', helper, '/account'])
      expect((await t.owner.get(path)).text).not.toMatch(/argon2/);
    await t.owner.post(`${helper}/reset`);
    const { before, after, action, subject } = audit;
    const noted = t.db.select({ before, after, action, subject }).from(audit).all();
    expect(JSON.stringify(noted)).not.toMatch(/argon2|hash/i);
  });
});
