import { describe, expect, it } from 'vitest';
import {
  beginTry,
  codeLimits,
  forgetOldTries,
  forgetTries,
  rememberDevice,
  type Try,
  tryWasRight,
} from '../../server/people/queries-tries.ts';
import { signInTries } from '../../server/schema/tables.ts';
import { cast, testApp, testNow } from '../support/test-app.ts';

const hour = 3_600_000;
const day = 24 * hour;
const from = (signInName: string, address = '192.0.2.1') => ({ signInName, address, knownDevice: null });
const againAt = (tried: Try) => (tried.allowed ? null : tried.againAt);

// The limits: at most 10 wrong tries an hour and 50 in a row on one account, as OWASP ASVS 5.0 (6.3.1) asks for
// a limit and NIST SP 800-63B-4 for at most 100 in a row; the figures are ours.
describe('wrong tries', () => {
  it('are 10 an hour on one account, from wherever they come', async () => {
    const { db } = await testApp();
    for (let count = 0; count < 10; count += 1)
      expect(beginTry(db, from('olive', `192.0.2.${count}`), testNow + count * 1000).allowed).toBe(true);
    expect(againAt(beginTry(db, from('olive', '192.0.2.99'), testNow + 20_000))).toBe(testNow + hour);
    expect(beginTry(db, from('oscar', '192.0.2.99'), testNow + 20_000).allowed).toBe(true);
    expect(beginTry(db, from('olive'), testNow + hour).allowed).toBe(true);
    expect(againAt(beginTry(db, from('olive'), testNow + hour))).toBe(testNow + hour + 1000);
  });

  it('are 50 an hour from one address, on whatever accounts', async () => {
    const { db } = await testApp();
    for (let count = 0; count < 50; count += 1)
      expect(beginTry(db, from(`name${count}`), testNow).allowed).toBe(true);
    expect(againAt(beginTry(db, from('name50'), testNow + 1))).toBe(testNow + hour);
    expect(beginTry(db, from('name50', '192.0.2.2'), testNow + 1).allowed).toBe(true);
    expect(beginTry(db, from('name51', '2001:db8:0:1::1'), testNow + 1).allowed).toBe(true);
  });

  it('are 50 in a row on one account within a week', async () => {
    const { db } = await testApp();
    for (let count = 0; count < 50; count += 1)
      expect(beginTry(db, from('olive'), testNow + count * (hour / 10)).allowed).toBe(true);
    const later = testNow + day;
    expect(againAt(beginTry(db, from('olive'), later))).toBe(testNow + 7 * day);
    forgetTries(db, from('olive'));
    expect(beginTry(db, from('olive'), later).allowed).toBe(true);
  });

  it('are ten an hour also when the person signs in between; then the row begins anew', async () => {
    const { db } = await testApp();
    const wrong = (at: number) => beginTry(db, from('olive'), at);
    for (let count = 0; count < 9; count += 1) wrong(testNow);
    const right = wrong(testNow + 1);
    if (right.allowed) tryWasRight(db, from('olive'), right, testNow + 1);
    expect([wrong(testNow + 2).allowed, wrong(testNow + 3).allowed]).toEqual([true, false]);
    for (let hours = 1; hours < 5; hours += 1)
      for (let count = 0; count < 10; count += 1) wrong(testNow + hours * hour + 4);
    expect(wrong(testNow + 9 * hour).allowed).toBe(false);
    tryWasRight(db, from('olive'), { id: 0 }, testNow + 9 * hour);
    expect(wrong(testNow + 9 * hour).allowed).toBe(true);
  });

  it('at a code leave a browser alone that the person has signed in from', async () => {
    const { db } = await testApp();
    const { id: personId } = cast.helper;
    rememberDevice(db, personId, 'a browser', testNow);
    const typing = (knownDevice: string | null) =>
      beginTry(db, { ...from(`code ${personId}`), personId, knownDevice }, testNow, codeLimits).allowed;
    const strangers = Array.from({ length: 6 }, () => typing('another browser'));
    expect(strangers).toEqual([...Array(5).fill(true), false]);
    expect(typing('a browser')).toBe(true);
  });

  it('are counted over a restart, and only as hashes', async () => {
    const { db } = await testApp();
    for (let count = 0; count < 10; count += 1) beginTry(db, from('olive'), testNow);
    const kept = JSON.stringify(db.select().from(signInTries).all());
    expect(kept).not.toContain('olive');
    expect(kept).not.toContain('192.0.2');
    expect(db.select().from(signInTries).all()).toHaveLength(10);
  });

  it('are forgotten when no limit looks at them any more', async () => {
    const { db } = await testApp();
    beginTry(db, from('olive'), testNow);
    beginTry(db, from('olive'), testNow + day);
    expect(forgetOldTries(db, testNow + 6 * day)).toBe(0);
    expect(forgetOldTries(db, testNow + 7 * day)).toBe(1);
  });

  it('of a clock that has gone back do not count', async () => {
    const { db } = await testApp();
    for (let count = 0; count < 10; count += 1) beginTry(db, from('olive'), testNow + 365 * day);
    expect(beginTry(db, from('olive'), testNow).allowed).toBe(true);
    expect(forgetOldTries(db, testNow)).toBe(10);
  });
});
