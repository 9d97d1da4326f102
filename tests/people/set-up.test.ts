import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { renewSetUpLink } from '../../server/people/set-up.ts';
import { audit, business, oneTimeLinks, people } from '../../server/schema/tables.ts';
import { type BareApp, bareApp, testApp, testNow } from '../support/test-app.ts';

const answers = {
  name: 'Olive Owner',
  signInName: ' Olive ',
  password: 'three brown snails',
  again: 'three brown snails',
  businessName: 'Leafmould Lane',
  country: 'DE',
  timeZone: 'Europe/Berlin',
  currency: 'EUR',
  units: 'metric',
  paper: 'A4',
};

const linkOf = ({ db, clock }: BareApp): string => {
  const token = renewSetUpLink(db, clock.now());
  if (!token) throw new Error('no link was made');
  return token;
};

describe('before set-up', () => {
  it.each(['/', '/sign-in', '/people', '/account', '/invitation?token=x'])(
    '%s leads to the set-up page',
    async (path) => {
      const { outsider } = await bareApp();
      const answer = await outsider.get(path);
      expect([answer.status, answer.headers.location]).toEqual([303, '/set-up']);
    },
  );

  it('says to open the printed link, and sends no form', async () => {
    const { outsider, db } = await bareApp();
    const answer = await outsider.get('/set-up');
    expect(answer.status).toBe(200);
    expect(answer.text).toContain('Open the one-time link');
    expect(answer.text).not.toContain('<form');
    expect((await outsider.post('/set-up', { ...answers, token: '' })).status).toBe(200);
    expect((await outsider.post('/sign-in', { signInName: 'olive', password: 'x' })).headers.location).toBe(
      '/set-up',
    );
    expect(db.select().from(people).all()).toEqual([]);
  });

  it('knows no wrong, old or cut link', async () => {
    const t = await bareApp();
    const first = linkOf(t);
    const second = linkOf(t);
    for (const token of [first, 'x', second.slice(1), `${second}A`, second.toLowerCase()]) {
      const answer = await t.outsider.get(`/set-up?token=${token}`);
      expect(answer.status).toBe(403);
      expect(answer.text).toContain('does not open the set-up');
    }
    expect((await t.outsider.get(`/set-up?token=${second}`)).status).toBe(200);
    t.clock.at = testNow + 60 * 60_000;
    expect((await t.outsider.get(`/set-up?token=${second}`)).status).toBe(403);
    // a clock that goes back does not open it again before it was made
    t.clock.at = testNow - 1;
    expect((await t.outsider.get(`/set-up?token=${second}`)).status).toBe(403);
  });

  it('stores only the hash of the link', async () => {
    const t = await bareApp();
    const token = linkOf(t);
    expect(token).toMatch(/^[\w-]{43}$/);
    expect(JSON.stringify(t.db.select().from(oneTimeLinks).all())).not.toContain(token);
  });
});

describe('set-up', () => {
  it('makes owner and business, signs in, and closes', async () => {
    const t = await bareApp();
    const token = linkOf(t);
    const form = await t.outsider.get(`/set-up?token=${token}`);
    expect(form.text).toContain('Name of the business');
    const done = await t.outsider.post('/set-up', { ...answers, token });
    expect([done.status, done.headers.location]).toEqual([303, '/']);
    expect((await t.outsider.get('/people')).status).toBe(200);

    const [owner] = t.db.select().from(people).all();
    expect(owner).toMatchObject({ signInName: 'olive', name: 'Olive Owner', role: 'owner', active: true });
    expect(owner?.passwordHash).toMatch(/^\$argon2id\$v=19\$m=65536,t=3,p=1\$/);
    expect(t.db.select().from(business).get()).toMatchObject({
      name: 'Leafmould Lane',
      country: 'DE',
      timeZone: 'Europe/Berlin',
      currency: 'EUR',
      locale: 'en-AT',
      language: 'de',
      paper: 'A4',
    });
    const noted = t.db.select().from(audit).where(eq(audit.action, 'set up')).all();
    expect(noted).toHaveLength(1);

    const again = await t.outsider.get(`/set-up?token=${token}`);
    expect(again.status).toBe(410);
    expect(again.text).toContain('Already set up');
    expect((await t.outsider.post('/set-up', { ...answers, token })).status).toBe(410);
    expect(t.db.select().from(people).all()).toHaveLength(1);
    expect(renewSetUpLink(t.db, t.clock.now())).toBeNull();
  });

  it('says beside each field what is wrong and keeps what was typed, but no password', async () => {
    const t = await bareApp();
    const token = linkOf(t);
    const wrong = {
      ...answers,
      token,
      signInName: 'o',
      again: 'three brown snail',
      country: 'XX',
      currency: 'XYZ',
    };
    const answer = await t.outsider.post('/set-up', wrong);
    expect(answer.status).toBe(422);
    for (const message of [
      'Use at least 2 characters',
      'Choose a country from the list',
      'Choose a currency from the list.',
    ])
      expect(answer.text).toContain(message);
    expect(answer.text).toContain('value="Leafmould Lane"');
    expect(answer.text).not.toContain('three brown');
    expect(answer.text).toContain('type the password again');
    expect(answer.text).toContain(token);
  });

  it('fills in what is left open as it is in the country', async () => {
    const t = await bareApp();
    const token = linkOf(t);
    const open = { timeZone: '', currency: '', units: '', paper: '' };
    const done = await t.outsider.post('/set-up', { ...answers, ...open, token, country: 'JP' });
    expect(done.status).toBe(303);
    expect(t.db.select().from(business).get()).toMatchObject({
      country: 'JP',
      timeZone: 'Asia/Tokyo',
      currency: 'JPY',
      units: 'metric',
      paper: 'A4',
    });
  });

  it('asks back for the zone, the country’s own first, and overwrites nothing that was chosen', async () => {
    const t = await bareApp();
    const token = linkOf(t);
    const open = {
      ...answers,
      token,
      country: 'US',
      timeZone: '',
      currency: 'CAD',
      units: 'metric',
      paper: '',
    };
    const asked = await t.outsider.post('/set-up', open);
    expect(asked.status).toBe(422);
    expect(asked.text).toContain('United States: there are 8 times of day. Choose the town nearest to you');
    expect(asked.text).toContain('type the password again');
    const zones = /<select id="field-timeZone".*?<\/select>/s.exec(asked.text)?.[0] ?? '';
    expect(zones.indexOf('America/Chicago')).toBeLessThan(zones.indexOf('Africa/'));
    // the list of what to mend follows the page: password, then time zone
    const summary = /<div class="error-summary".*?<\/div>/s.exec(asked.text)?.[0] ?? '';
    expect(summary.indexOf('#field-password')).toBeLessThan(summary.indexOf('#field-timeZone'));
    const done = await t.outsider.post('/set-up', { ...open, timeZone: 'America/Chicago' });
    expect(done.status).toBe(303);
    expect(t.db.select().from(business).get()).toMatchObject({
      timeZone: 'America/Chicago',
      currency: 'CAD',
      units: 'metric',
      paper: 'Letter',
    });
  });

  it('says what is usual in a country as soon as it is chosen', async () => {
    const t = await bareApp();
    const token = linkOf(t);
    const plain = await t.outsider.get(`/set-up?token=${token}`);
    expect(plain.text).toContain('As the country has it');
    const chosen = await t.outsider.get(`/set-up?token=${token}&country=AT&currency=CHF`);
    expect(chosen.text).toContain('As in Austria: Vienna');
    expect(chosen.text).toContain('As in Austria: Euro (EUR)');
    expect(chosen.text).toMatch(/<option value="CHF" selected/);
    const nowhere = { ...answers, timeZone: '', currency: '', country: 'AQ', token };
    const asked = await t.outsider.post('/set-up', nowhere);
    expect(asked.text).toContain('choose the currency of your prices');
  });

  it('refuses a password about the owner or the business', async () => {
    const t = await bareApp();
    const token = linkOf(t);
    for (const password of ['leafmould-lane-26', 'olive owner olive', 'broodbench 2026!']) {
      const answer = await t.outsider.post('/set-up', { ...answers, token, password, again: password });
      expect(answer.status).toBe(422);
      expect(answer.text).toContain('a name that others know');
    }
    const different = await t.outsider.post('/set-up', { ...answers, token, again: 'three brown snailz' });
    expect(different.text).toContain('not the same as above');
    expect(t.db.select().from(business).all()).toEqual([]);
  });

  it('is done once when two send it at the same time', async () => {
    const t = await bareApp();
    const token = linkOf(t);
    await t.outsider.csrf();
    const both = await Promise.all(
      ['olive', 'oscar'].map((signInName) => t.outsider.post('/set-up', { ...answers, token, signInName })),
    );
    expect(both.map((answer) => answer.status).sort()).toEqual([303, 410]);
    expect(t.db.select().from(people).all()).toHaveLength(1);
  });

  it('is closed on a service that has its owner', async () => {
    const t = await testApp();
    expect((await t.outsider.get('/set-up')).status).toBe(410);
  });
});
