import { describe, expect, it, vi } from 'vitest';
import { atOnce, hashPassword, isCheaper, passwordMatches } from '../../server/plumbing/passwords.ts';
import { signInTries } from '../../server/schema/tables.ts';
import { testApp } from '../support/test-app.ts';

describe('hashing', () => {
  it('leaves a core to others, lets 16 wait and turns the next away, for whom it is no wrong try', async () => {
    const t = await testApp();
    await t.outsider.csrf();
    // However slow the machine is, nobody has waited too long.
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const hashes = Promise.allSettled(
      Array.from({ length: 20 }, (_, at) => hashPassword(`three brown snails ${at}`)),
    ).finally(() => vi.useRealTimers());
    const form = { signInName: 'helper', password: 'three brown snails' };
    expect((await t.outsider.post('/sign-in', form)).status).toBe(429);
    expect(t.db.select().from(signInTries).all()).toEqual([]);
    const all = await hashes;
    const refused = all.filter((one) => one.status === 'rejected');
    expect([1, 2]).toContain(atOnce);
    expect(refused).toHaveLength(20 - 16 - atOnce);
    for (const { reason } of refused) expect(reason).toMatchObject({ status: 429 });
    expect(await hashPassword('three brown snails')).toMatch(/^\$argon2id\$/);
  });

  it('tells whoever waits too long, and leaves the queue in order', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    try {
      const all = Array.from({ length: 6 }, (_, at) => hashPassword(`three brown snails ${at}`));
      const settled = Promise.allSettled(all);
      vi.advanceTimersByTime(8_001);
      const states = (await settled).map(({ status }) => status);
      expect(states).toEqual([...Array(atOnce).fill('fulfilled'), ...Array(6 - atOnce).fill('rejected')]);
    } finally {
      vi.useRealTimers();
    }
    expect(await hashPassword('three brown snails')).toMatch(/^\$argon2id\$/);
  });

  it('takes a password in any Unicode form, and none that is absurdly long', async () => {
    const stored = await hashPassword('\u00fcmlaut k\u00f6der \u00e4pfel');
    expect(await passwordMatches(stored, 'u\u0308mlaut ko\u0308der a\u0308pfel')).toBe(true);
    expect(await passwordMatches(stored, 'umlaut koder apfel')).toBe(false);
    expect(await passwordMatches(stored, 'x'.repeat(1_001))).toBe(false);
  });

  it('knows a hash of a lower cost or another kind', () => {
    expect(isCheaper('$argon2id$v=19$m=65536,t=3,p=1$c2FsdA$aGFzaA')).toBe(false);
    expect(isCheaper('$argon2id$v=19$m=131072,t=4,p=1$c2FsdA$aGFzaA')).toBe(false);
    for (const cheap of [
      '$argon2id$v=19$m=19456,t=3,p=1$c2FsdA$aGFzaA',
      '$argon2id$v=19$m=65536,t=2,p=1$c2FsdA$aGFzaA',
      '$argon2i$v=19$m=65536,t=3,p=1$c2FsdA$aGFzaA',
      'none',
    ])
      expect(isCheaper(cheap)).toBe(true);
  });
});
