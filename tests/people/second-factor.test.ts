import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import {
  codeAt,
  freshSecret,
  keyUri,
  recoveryCodesFor,
  stepMs,
  stepOf,
} from '../../server/people/one-time-codes.ts';
import { audit, recoveryCodes, secondFactors, sessions } from '../../server/schema/tables.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, type TestApp, testApp, testNow } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

// RFC 6238, appendix B: the secret '12345678901234567890' in base32, SHA-1, 8 digits.
const rfcSecret = 'GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ';
const rfc: [number, string][] = [
  [59, '94287082'],
  [1111111109, '07081804'],
  [1111111111, '14050471'],
  [1234567890, '89005924'],
  [2000000000, '69279037'],
  [20000000000, '65353130'],
];

const where = '/account/second-factor';
const codeNow = (secret: string, t: TestApp, steps = 0) => codeAt(secret, t.clock.now() + steps * stepMs);

/** Sets the helper's code up as a person does; gives its secret and the recovery codes. */
async function setUp(t: TestApp) {
  await givePassword(t, cast.helper.id);
  await t.helper.post(`${where}/start`);
  const secret = (await secretOf(t)) ?? '';
  const on = await t.helper.post(where, { code: codeNow(secret, t), password: goodPassword });
  return {
    secret,
    on,
    codes: [...on.text.matchAll(/<code>([a-z2-9-]{19})<\/code>/g)].map(([, code]) => code ?? ''),
  };
}

async function secretOf({ db }: TestApp) {
  return db.select().from(secondFactors).where(eq(secondFactors.personId, cast.helper.id)).get()?.secret;
}

const tokenIn = (text: string) => /name="token" value="([^"]+)"/.exec(text)?.[1] ?? '';

/** The first step of signing in, with a browser that nobody knows. */
async function withPassword(t: TestApp) {
  const visitor = new Visitor(t.app, null);
  const answer = await visitor.post('/sign-in', {
    signInName: 'helper',
    password: goodPassword,
    next: '/cultures',
  });
  const token = tokenIn(answer.text);
  return {
    visitor,
    answer,
    token,
    type: (code: string) => visitor.post('/sign-in/code', { token, code, next: '/cultures' }),
  };
}

describe('codes', () => {
  it.each(rfc)('at %i seconds are those of RFC 6238', (seconds, code) => {
    expect(codeAt(rfcSecret, seconds * 1000, 8)).toBe(code);
    expect(codeAt(rfcSecret, seconds * 1000)).toBe(code.slice(2));
  });

  it('are good for their step and the ones beside it, and say which', () => {
    const secret = freshSecret();
    const step = Math.floor(testNow / stepMs);
    const of = (steps: number) => stepOf(secret, codeAt(secret, testNow + steps * stepMs), testNow);
    expect([-1, 0, 1].map(of)).toEqual([step - 1, step, step + 1]);
    expect([-2, 2].map(of)).toEqual([null, null]);
    for (const wrong of ['', 'abcdef', '1234567', '12345']) expect(stepOf(secret, wrong, testNow)).toBeNull();
  });

  it('come from 160 bits, and lead an app by a key URI', () => {
    expect(freshSecret()).toMatch(/^[A-Z2-7]{32}$/);
    expect(freshSecret()).not.toBe(freshSecret());
    const uri = new URL(keyUri(rfcSecret, 'Moss & Bark: one', 'pat@example.org'));
    expect([uri.protocol, uri.host, uri.searchParams.get('secret')]).toEqual(['otpauth:', 'totp', rfcSecret]);
  });

  it('for a lost phone are ten, the same for the same form and for no other', () => {
    const codes = recoveryCodesFor('p', 'form-1');
    expect(new Set(codes).size).toBe(10);
    for (const code of codes) expect(code).toMatch(/^([a-hj-km-np-z2-9]{4}-){3}[a-hj-km-np-z2-9]{4}$/);
    expect(recoveryCodesFor('p', 'form-1')).toEqual(codes);
    expect(recoveryCodesFor('q', 'form-1')).not.toEqual(codes);
  });
});

describe('setting a code up', () => {
  it('shows picture and secret, wants a first code and the password, and gives ten recovery codes once', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    expect((await t.helper.get(where)).text).toContain('Set up a code');
    await t.helper.post(`${where}/start`);
    const secret = (await secretOf(t)) ?? '';
    const shown = (await t.helper.get(where)).text;
    expect(shown).toContain('src="data:image/gif;base64,');
    expect(shown).toContain((secret.match(/.{4}/g) ?? []).join(' '));
    const code = codeNow(secret, t);
    expect((await t.helper.post(where, { code, password: 'not my password' })).status).toBe(422);
    const wrong = await t.helper.post(where, { code: '000000', password: goodPassword });
    expect([wrong.status, wrong.text.includes(goodPassword)]).toEqual([422, false]);
    // Not confirmed yet, it is asked of nobody.
    expect((await withPassword(t)).answer.status).toBe(303);
    const before = t.db.select().from(sessions).where(eq(sessions.userId, cast.helper.id)).all().length;
    expect(before).toBe(2);
    const form = { code, password: goodPassword };
    const on = await t.helper.post(where, form, { formKey: 'one-and-the-same-form-1' });
    const again = await t.helper.post(where, form, { formKey: 'one-and-the-same-form-1' });
    const codes = on.text.match(/<code>[a-z2-9-]{19}<\/code>/g);
    expect(codes).toHaveLength(10);
    expect(again.text.match(/<code>[a-z2-9-]{19}<\/code>/g)).toEqual(codes);
    expect(t.db.select().from(sessions).where(eq(sessions.userId, cast.helper.id)).all()).toHaveLength(1);
    const kept = JSON.stringify([
      t.db.select().from(recoveryCodes).all(),
      t.sqlite.prepare('SELECT * FROM form_keys').all(),
    ]);
    for (const one of codes ?? []) expect(kept).not.toContain(one.slice(6, 25));
    expect((await t.helper.get(where)).text).not.toContain('base64');
    expect(
      t.db
        .select()
        .from(audit)
        .all()
        .map(({ action }) => action),
    ).toEqual(['turned on a code at sign-in']);
  });
});

describe('signing in with a code', () => {
  it('takes password and then code, and nothing without both', async () => {
    const t = await testApp();
    const { secret } = await setUp(t);
    t.clock.at += stepMs;
    const { visitor, answer, type } = await withPassword(t);
    expect([answer.status, String(answer.headers['set-cookie']).includes('broodbench=')]).toEqual([
      200,
      false,
    ]);
    expect((await visitor.get('/cultures')).status).toBe(303);
    expect((await type('')).status).toBe(422);
    const wrong = await type('000000');
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('This code is wrong');
    const done = await type(codeNow(secret, t).replace(/(...)/, '$1 '));
    expect([done.status, done.headers.location]).toEqual([303, '/cultures']);
    expect((await visitor.get('/cultures')).status).toBe(200);
  });

  it('takes each code once, and none older than the last', async () => {
    const t = await testApp();
    const { secret } = await setUp(t);
    const used = codeNow(secret, t);
    expect((await (await withPassword(t)).type(used)).status).toBe(422);
    t.clock.at += stepMs;
    expect((await (await withPassword(t)).type(codeNow(secret, t, 1))).status).toBe(303);
    for (const steps of [-1, 0, 1, 2])
      expect((await (await withPassword(t)).type(codeNow(secret, t, steps))).status).toBe(422);
  });

  it('of sixteen with the same code at once lets one in', async () => {
    const t = await testApp();
    const { codes } = await setUp(t);
    const { token, visitor } = await withPassword(t);
    const all = await Promise.all(
      Array.from({ length: 5 }, () => visitor.post('/sign-in/code', { token, code: codes[0] ?? '' })),
    );
    expect(all.filter(({ headers }) => headers.location === where)).toHaveLength(1);
  });

  it('stops after five wrong codes for a quarter of an hour, whatever the address', async () => {
    const t = await testApp({ TRUSTED_PROXIES: '127.0.0.1' });
    const { secret } = await setUp(t);
    t.clock.at += 2 * stepMs;
    let guesses = 0;
    for (let tried = 0; tried < 40; tried += 1) {
      const { token, visitor } = await withPassword(t);
      const headers = { 'X-Forwarded-For': `192.0.2.${tried}` };
      const { status } = await visitor.post('/sign-in/code', { token, code: '000000' }, { headers });
      if (status === 422) guesses += 1;
      else expect(status).toBe(429);
      if (tried === 6) break;
    }
    expect(guesses).toBe(5);
    expect((await (await withPassword(t)).type(codeNow(secret, t))).status).toBe(429);
    t.clock.at += 15 * 60_000 + 1_000;
    expect((await (await withPassword(t)).type(codeNow(secret, t))).status).toBe(303);
  });

  it('opens by each recovery code once, as it is written or without its hyphens', async () => {
    const t = await testApp();
    const { codes } = await setUp(t);
    const [first = '', second = ''] = codes;
    const done = await (await withPassword(t)).type(first);
    expect([done.status, done.headers.location]).toEqual([303, where]);
    expect((await (await withPassword(t)).type(first)).status).toBe(422);
    expect((await (await withPassword(t)).type(second.replaceAll('-', '').toUpperCase())).status).toBe(303);
    expect((await t.helper.get(where)).text).toContain('8 recovery codes are left');
  });

  it('is over after ten minutes, with a new password, and when the account is deactivated', async () => {
    const t = await testApp();
    const { secret } = await setUp(t);
    t.clock.at += 2 * stepMs;
    const late = await withPassword(t);
    t.clock.at += 10 * 60_000;
    expect((await late.type(codeNow(secret, t))).headers.location).toBe('/sign-in');
    const reset = await withPassword(t);
    t.sqlite.prepare("UPDATE people SET password_hash = 'none' WHERE id = ?").run(cast.helper.id);
    expect((await reset.type(codeNow(secret, t))).headers.location).toBe('/sign-in');
    expect((await t.outsider.get('/sign-in/code')).headers.location).toBe('/sign-in');
    expect((await t.outsider.post('/sign-in/code', { token: 'x', code: '1' })).headers.location).toBe(
      '/sign-in',
    );
  });

  it('is asked for after a reset of the password too', async () => {
    const t = await testApp();
    await setUp(t);
    const link = (await t.owner.post(`/people/${cast.helper.id}/reset`)).text;
    const token = /new-password\?token=([\w-]+)/.exec(link)?.[1] ?? '';
    const password = 'beetles below the bark';
    const visitor = new Visitor(t.app, null);
    const answer = await visitor.post('/new-password', { token, password, again: password });
    expect(answer.status).toBe(200);
    expect(answer.text).toContain('Your code');
    expect((await visitor.get('/cultures')).status).toBe(303);
  });
});

describe('a code that is on', () => {
  it('is turned off and gets new recovery codes only with a code', async () => {
    const t = await testApp();
    const { secret, codes } = await setUp(t);
    t.clock.at += stepMs;
    expect((await t.helper.post(`${where}/codes`, { code: '000000' })).status).toBe(422);
    const renewed = await t.helper.post(`${where}/codes`, { code: codeNow(secret, t) });
    expect(renewed.text).toMatch(/<code>[a-z2-9-]{19}<\/code>/);
    expect((await t.helper.post(`${where}/stop`, { code: codes[0] ?? '' })).status).toBe(422);
    t.clock.at += stepMs;
    expect((await t.helper.post(`${where}/stop`, { code: codeNow(secret, t) })).status).toBe(303);
    expect((await withPassword(t)).answer.status).toBe(303);
    expect(t.db.select().from(recoveryCodes).all()).toEqual([]);
  });

  it('is taken off by an owner, for others, with all sessions', async () => {
    const t = await testApp();
    await setUp(t);
    expect((await t.owner.get(`/people/${cast.helper.id}`)).text).toContain('Lost phone');
    expect((await t.owner.post(`/people/${cast.owner.id}/second-factor/remove`)).status).toBe(409);
    expect((await t.owner.post(`/people/${cast.helper.id}/second-factor/remove`)).status).toBe(303);
    expect((await t.helper.get('/round')).status).toBe(303);
    expect((await withPassword(t)).answer.headers.location).toBe('/cultures');
  });

  it('can be asked of owners or of everybody: nothing else opens until it is set up', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    await t.owner.save('/people/second-factor', { secondFactor: 'everybody' }, '/people');
    for (const visitor of [t.owner, t.helper]) {
      const turned = await visitor.get('/round');
      expect([turned.status, turned.headers.location]).toEqual([303, where]);
      expect((await visitor.post('/cultures', {})).headers.location).toBe(where);
      expect((await visitor.get('/round/rows', { 'HX-Request': 'true' })).headers['hx-redirect']).toBe(where);
      expect((await visitor.get(where)).text).toContain('Your business asks for this code');
    }
    const { secret } = await setUp(t);
    expect((await t.helper.get('/round')).status).toBe(200);
    t.clock.at += stepMs;
    expect((await t.helper.post(`${where}/stop`, { code: codeNow(secret, t) })).status).toBe(409);
    t.sqlite.exec("UPDATE sign_in_rules SET second_factor = 'nobody'");
    expect((await t.owner.get('/people')).status).toBe(200);
    await t.owner.save('/people/second-factor', { secondFactor: 'owners' }, '/people');
    expect((await t.owner.get('/people')).headers.location).toBe(where);
  });
});
