import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { exportCustomer } from '../../server/customers/export.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { clearFolders, filledFolder, freshFolder, run } from '../backups/shelf.ts';
import { testNow } from '../support/test-app.ts';

afterAll(clearFolders);

it('gives out by command what the page of a customer gives out, and writes it among the reads', async () => {
  const { dir, database } = await filledFolder();
  const { db, sqlite } = openDatabase(database);
  const reads = sqlite.prepare("SELECT subject FROM personal_reads WHERE way = 'command'").pluck();
  const sheet = (...words: string[]) => run('data-sheet', words, { DATA_DIR: dir });
  const to = join(freshFolder(), 'theirs.zip');

  expect(await sheet('1', '--to', to)).toMatchObject({ code: 0, errors: '' });
  expect(readFileSync(to).includes('customers.csv')).toBe(true);
  expect(statSync(to).mode & 0o777).toBe(0o600);
  expect(reads.all()).toEqual(['customer 1']);
  // It tells of its own reading too: that was written down first.
  const again = await sheet('1', '--to', to, '--replace');
  expect(again).toMatchObject({ code: 0, errors: '' });
  expect(readFileSync(to).equals(exportCustomer(db, 1, testNow))).toBe(true);
  expect(reads.all()).toEqual(['customer 1', 'customer 1']);

  expect((await sheet('1', '--to', to)).errors).toContain('is there already');
  expect((await sheet('999', '--to', join(dir, 'x.zip'))).errors).toBe('There is no customer 999.\n');
  expect((await sheet('1', '--to', join(dir, 'nowhere', 'x.zip'))).errors).toContain('There is no folder');
  for (const words of [[], ['1'], ['one', '--to', to], ['1', '2', '--to', to], ['-1', '--to', to]])
    expect([words, (await sheet(...words)).code]).toEqual([words, 2]);
  expect(reads.all()).toHaveLength(2);

  // Where it cannot be written down, nothing is given out.
  sqlite.exec('BEGIN IMMEDIATE');
  const held = join(dir, 'held.zip');
  expect((await sheet('1', '--to', held)).errors).toContain('Try again');
  sqlite.exec('ROLLBACK');
  expect(statSync(held, { throwIfNoEntry: false })).toBeUndefined();
  writeFileSync(held, 'mine');
  expect((await sheet('1', '--to', held)).code).toBe(1);
  expect(readFileSync(held, 'utf8')).toBe('mine');
  sqlite.close();
});
