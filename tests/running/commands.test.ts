import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { addressOfOrder, linkByToken, renewLink } from '../../server/arrivals/queries-links.ts';
import { openLink } from '../../server/people/queries-links.ts';
import { beginFactor, confirmFactor, keepRecoveryCodes } from '../../server/people/queries-second-factor.ts';
import { holdFolder } from '../../server/plumbing/one-instance.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { backupOf, clearFolders, filledFolder, run } from '../backups/shelf.ts';
import { testNow } from '../support/test-app.ts';

afterAll(clearFolders);

describe('the commands for people', () => {
  it('make an owner, reset a password, end sessions and close an account, each on record', async () => {
    const { dir, database } = await filledFolder();
    const env = { DATA_DIR: dir, BASE_URL: 'https://bench.example.org' };
    const opened = openDatabase(database);
    const count = (sql: string) => opened.sqlite.prepare(`SELECT count(*) FROM ${sql}`).pluck().get();
    const person = (...words: string[]) => run('person', words, env);
    const tokenIn = (output: string) => /token=([\w-]+)$/m.exec(output)?.[1] ?? '';

    const made = await person('create-owner', 'Nora New');
    expect([made.code, made.errors]).toEqual([0, '']);
    expect(made.output).toContain('https://bench.example.org/invitation?token=');
    expect(openLink(opened.db, 'invitation', tokenIn(made.output), testNow)).toMatchObject({ role: 'owner' });

    expect(count("sessions WHERE user_id = 'person-helper'")).toBe(1);
    const reset = await person('reset-password', 'helper');
    expect(openLink(opened.db, 'reset', tokenIn(reset.output), testNow)?.personId).toBe('person-helper');
    expect(count("sessions WHERE user_id = 'person-helper'")).toBe(0);

    expect((await person('end-sessions')).output).toBe('1 session has ended.\n');
    expect((await person('deactivate', 'helper')).code).toBe(0);
    expect(count("people WHERE id = 'person-helper' AND active = 0")).toBe(1);
    const last = await person('deactivate', 'owner');
    expect([last.code, last.errors]).toEqual([1, 'owner is the only active owner, and somebody must be.\n']);
    expect((await person('reset-password', 'helper')).errors).toBe('helper is not active.\n');
    expect((await person('reset-password', 'nobody')).errors).toBe('Nobody signs in as nobody.\n');
    expect((await person('sing')).code).toBe(2);
    expect(count("audit WHERE action LIKE 'command: %' AND person_id IS NULL")).toBe(4);

    opened.sqlite.exec('BEGIN IMMEDIATE');
    expect((await person('end-sessions')).errors).toContain('Try again');
    opened.sqlite.exec('ROLLBACK');
    opened.sqlite.close();
  });
});

describe('the command for a lost phone', () => {
  it('takes the code off, ends the sessions and stands in the record of changes', async () => {
    const { dir, database } = await filledFolder();
    const opened = openDatabase(database);
    const count = (sql: string) => opened.sqlite.prepare(`SELECT count(*) FROM ${sql}`).pluck().get();
    beginFactor(opened.db, 'person-helper', 'JBSWY3DPEHPK3PXP'.repeat(2), testNow);
    confirmFactor(opened.db, 'person-helper', 0, testNow);
    keepRecoveryCodes(opened.db, 'person-helper', ['aaaa-bbbb-cccc-dddd'], testNow);
    const withoutCode = (...words: string[]) => run('without-code', words, { DATA_DIR: dir });

    expect((await withoutCode('nobody')).errors).toBe('Nobody signs in as nobody.\n');
    expect((await withoutCode()).code).toBe(2);
    expect(await withoutCode(' HELPER ')).toMatchObject({ code: 0, errors: '' });
    expect(count("second_factors WHERE person_id = 'person-helper'")).toBe(0);
    expect(count("recovery_codes WHERE person_id = 'person-helper'")).toBe(0);
    expect(count("sessions WHERE user_id = 'person-helper'")).toBe(0);
    expect(count("audit WHERE action = 'removed the code at sign-in by command'")).toBe(1);
    expect((await withoutCode('helper')).output).toBe('helper has no code at sign-in.\n');
    expect(count("audit WHERE action = 'removed the code at sign-in by command'")).toBe(1);
    opened.sqlite.close();
  });
});

describe('the doctor', () => {
  it('finds what is wrong and changes nothing', async () => {
    const bench = await filledFolder();
    const env = { DATA_DIR: bench.dir, MIN_FREE_MB: '20' };
    const before = readFileSync(bench.database);
    const ill = await run('doctor', [], { ...env, BACKUP_DIRR: '/x' });
    expect(ill.code).toBe(1);
    expect(ill.errors).toBe('2 things are wrong.\n');
    expect(ill.output).toContain('WRONG  BACKUP_DIRR is no setting');
    expect(ill.output).toContain('WRONG  There is no proven backup');
    await backupOf(bench);
    const well = await run('doctor', [], env);
    expect([well.code, well.errors]).toEqual([0, '']);
    expect(well.output).toContain('ok     The database holds together.');
    expect(well.output).not.toContain('WRONG');
    expect(readFileSync(bench.database).equals(before)).toBe(true);
    expect(readdirSync(bench.dir).sort()).toEqual(['backups', 'broodbench.db']);
    expect((await run('doctor', [], { PORT: 'x' })).errors).toContain('  PORT: ');
  });
});

describe('a new key of the addresses of customers', () => {
  it('ends every address that was given away, gives each order another, and is on record', async () => {
    const { dir, database } = await filledFolder();
    const { db, sqlite } = openDatabase(database);
    const orderId = Number(sqlite.prepare('SELECT min(id) FROM orders').pluck().get());
    renewLink(db, { id: orderId, dispatchOn: null }, { personId: null, now: testNow });
    const at = { base: '', now: testNow };
    const tokenNow = () => addressOfOrder(db, orderId, at)!.slice('/o/'.length);
    const old = tokenNow();
    expect(linkByToken(db, old, testNow)?.orderId).toBe(orderId);
    const renewed = await run('new-link-key', [], { DATA_DIR: dir });
    expect([renewed.code, renewed.errors]).toEqual([0, '']);
    expect(renewed.output).toMatch(/^There is a new key\. [1-9]\d* addresses/);
    expect(linkByToken(db, old, testNow)).toBeNull();
    expect(tokenNow()).not.toBe(old);
    expect(linkByToken(db, tokenNow(), testNow)?.orderId).toBe(orderId);
    const noted = sqlite
      .prepare("SELECT count(*) FROM audit WHERE action LIKE 'renewed the key%'")
      .pluck()
      .get();
    expect(noted).toBe(1);
    sqlite.close();
  });
});

describe('the vacuum', () => {
  it('makes the database smaller, and only while nobody works on it', async () => {
    const { dir, database } = await filledFolder();
    const env = { DATA_DIR: dir };
    const { sqlite } = openDatabase(database);
    sqlite.exec('CREATE TABLE big (words TEXT) STRICT');
    for (let row = 0; row < 200; row += 1)
      sqlite.prepare('INSERT INTO big VALUES (?)').run('x'.repeat(10_000));
    sqlite.exec('DROP TABLE big');
    sqlite.close();
    const before = statSync(database).size;
    const held = holdFolder(dir, 'the service');
    expect((await run('vacuum', [], env)).errors).toContain('is in use (the service');
    held.release();
    expect((await run('vacuum', [], env)).code).toBe(0);
    expect(statSync(database).size).toBeLessThan(before - 1_500_000);
    expect((await run('vacuum', ['--data-dir', join(dir, 'nowhere')])).errors).toContain(
      'There is no database',
    );
  });
});
