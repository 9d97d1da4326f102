import { describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { readConfig } from '../../server/config.ts';
import { beginTry, forgetTries, tryLimits } from '../../server/people/queries-tries.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { cast, testApp, testNow } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

const minute = 60_000;

// OWASP ASVS 5.0, 6.1.1 and 6.3.1; NIST SP 800-63B-4, 3.2.2 (at most 100 wrong tries in a row). The figures are ours.
describe('guesses without end', () => {
  it('at one account, from thousands of addresses, come to 10 an hour and 50 in a row', async () => {
    const { db } = await testApp();
    const allowed: number[] = [];
    for (let tried = 0; tried < 2_000; tried += 1) {
      const now = testNow + tried * 5 * minute;
      const address = `198.51.${tried % 250}.${tried % 249}`;
      if (beginTry(db, { signInName: 'olive', address, knownDevice: null }, now).allowed) allowed.push(now);
    }
    const inAnyHour = Math.max(
      ...allowed.map((at) => allowed.filter((one) => one >= at && one < at + 60 * minute).length),
    );
    expect(inAnyHour).toBe(10);
    // two thousand times five minutes are just under a week
    expect(allowed).toHaveLength(50);
  });

  it('at many accounts from one address come to 50 an hour, whatever they look for', async () => {
    const { db } = await testApp();
    let allowed = 0;
    for (let tried = 0; tried < 500; tried += 1) {
      const claim = { signInName: `name${tried}`, address: '2001:db8:7:7::1', knownDevice: null };
      if (beginTry(db, claim, testNow + tried * 1_000).allowed) allowed += 1;
    }
    expect(allowed).toBe(tryLimits.address[0].tries);
    forgetTries(db, { signInName: 'name1', address: '', knownDevice: null });
  });
});

describe('guessing by the page', () => {
  it('goes on to be refused after a restart, whatever address a header claims; a known browser still gets in', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    const own = new Visitor(t.app, null);
    const right = { signInName: 'helper', password: goodPassword };
    expect((await own.post('/sign-in', right)).status).toBe(303);
    const wrong = { signInName: 'helper', password: 'not this password' };
    const statuses: number[] = [];
    for (let tried = 0; tried < 12; tried += 1) {
      const headers = {
        'X-Forwarded-For': `203.0.113.${tried}`,
        Forwarded: `for=203.0.113.${tried}`,
        'X-Real-IP': '203.0.113.9',
      };
      statuses.push((await new Visitor(t.app, null).post('/sign-in', wrong, { headers })).status);
    }
    expect(statuses).toEqual([...Array(10).fill(422), 429, 429]);
    const again = await buildApp({ ...t, config: { ...readConfig({}), logLevel: 'silent' } });
    await again.ready();
    try {
      expect((await new Visitor(again, null).post('/sign-in', right)).status).toBe(429);
    } finally {
      await again.close();
    }
    await own.post('/sign-out');
    expect((await own.post('/sign-in', right)).status).toBe(303);
  });

  it('is answered alike for an account that is there, one that is not and one that is closed', async () => {
    const t = await testApp();
    await givePassword(t, cast.helper.id);
    await givePassword(t, cast.owner.id);
    t.sqlite.exec(`UPDATE people SET active = 0 WHERE id = '${cast.owner.id}'`);
    const answers = [];
    for (const signInName of ['helper', 'nobody-here', 'owner']) {
      const visitor = new Visitor(t.app, null);
      await visitor.csrf();
      const { status, headers, text } = await visitor.post('/sign-in', {
        signInName,
        password: 'not this password',
      });
      // Each page has its own token, key and time; everything else must be the same.
      const plain = text
        .replaceAll(`value="${signInName}"`, '')
        .replace(/value="[\w-]{8,}(\.[\w-]+)*"|csrf-token&quot;:&quot;[^&]+/g, '');
      const { date: _date, 'content-length': _length, etag: _etag, 'set-cookie': _cookie, ...same } = headers;
      delete (same as Record<string, string>)['made-at'];
      answers.push(JSON.stringify({ status, same, plain }));
    }
    expect(new Set(answers).size).toBe(1);
  });
});
