import { describe, expect, it } from 'vitest';
import { changesBetween, note } from '../../server/plumbing/audit.ts';
import { audit } from '../../server/schema/tables.ts';
import { cast, testApp } from '../support/test-app.ts';

const entry = { at: 1, personId: cast.owner.id, action: 'changed', subject: 'thing 1' };

describe('the record of changes', () => {
  it('holds who, what and both versions', async () => {
    const { db } = await testApp();
    note(db, { ...entry, before: { price: 100 }, after: { price: 120 } });
    expect(db.select().from(audit).all()).toMatchObject([
      { id: 1, ...entry, before: '{"price":100}', after: '{"price":120}' },
    ]);
  });

  it('takes no secret', async () => {
    const { db } = await testApp();
    for (const name of ['password', 'passwordHash', 'token', 'tokenHash', 'cookie', 'clientSecret'])
      expect(() => note(db, { ...entry, after: { [name]: 'x' } })).toThrow(/must not stand/);
    expect(db.select().from(audit).all()).toMatchObject([]);
  });

  it('is never changed and never loses a row', async () => {
    const { db, sqlite } = await testApp();
    note(db, entry);
    expect(() => sqlite.exec("UPDATE audit SET action = 'x'")).toThrow('audit rows are not changed');
    expect(() => sqlite.exec('DELETE FROM audit')).toThrow('audit rows are kept');
  });

  it('is told only what differs', () => {
    expect(changesBetween({ a: 1, b: 'x', c: null }, { a: 1, b: 'y' })).toEqual({
      before: { b: 'x' },
      after: { b: 'y' },
    });
  });
});
