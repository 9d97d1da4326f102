import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { readConfig } from '../../server/config.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { Database } from '../../server/plumbing/sqlite-driver.ts';
import { TestClock, testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

const ends: (() => Promise<void> | void)[] = [];

afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

/** The same bench in a file, so that another process could hold it. */
async function benchInFile() {
  const folder = mkdtempSync(join(tmpdir(), 'busy-'));
  ends.push(() => rmSync(folder, { recursive: true }));
  const file = join(folder, 'bench.db');
  await (await testApp()).sqlite.backup(file);
  const opened = openDatabase(file);
  const app = await buildApp({
    ...opened,
    clock: new TestClock(),
    config: { ...readConfig({}), logLevel: 'silent' },
  });
  await app.ready();
  ends.push(
    () => void opened.sqlite.close(),
    async () => app.close(),
  );
  return { ...opened, file, visitor: new Visitor(app, null) };
}

describe('a database that somebody else holds', () => {
  it('still answers reads; a write is told to come back, and then succeeds', async () => {
    const t = await benchInFile();
    const form = { signInName: 'nobody', password: 'three brown snails' };
    await t.visitor.csrf();
    const other = new Database(t.file);
    ends.push(() => void other.close());
    other.exec('BEGIN IMMEDIATE');
    expect((await t.visitor.get('/sign-in')).status).toBe(200);
    const refused = await t.visitor.post('/sign-in', form);
    expect(refused.status).toBe(503);
    expect(refused.headers['retry-after']).toBe('2');
    expect(refused.text).toContain('Busy just now');
    other.exec('ROLLBACK');
    expect((await t.visitor.post('/sign-in', form)).status).toBe(422);
  });

  it('is waited for by forms, not by pages: what is let go of soon costs nobody anything', async () => {
    const t = await benchInFile();
    await t.visitor.csrf();
    const other = new Database(t.file);
    ends.push(() => void other.close());
    other.exec('BEGIN IMMEDIATE');
    const forms = [1, 2, 3].map(async () => {
      return (await t.visitor.post('/sign-in', { signInName: 'nobody', password: 'no such' })).status;
    });
    const page = t.visitor.get('/sign-in').then(() => 'a page');
    expect(await Promise.race([page, ...forms])).toBe('a page');
    other.exec('ROLLBACK');
    expect(await Promise.all(forms)).toEqual([422, 422, 422]);
  });

  it('is opened with what keeps an answered write through a power cut', async () => {
    const { sqlite } = await benchInFile();
    const pragma = (name: string) => sqlite.pragma(name, { simple: true });
    // SQLite: PRAGMA synchronous, 2 is FULL
    expect(
      ['journal_mode', 'synchronous', 'foreign_keys', 'busy_timeout', 'trusted_schema'].map(pragma),
    ).toEqual(['wal', 2, 1, 20, 0]);
  });
});

describe('papers that are all asked for at once', () => {
  it('are begun one after another, and a page that is asked for last is answered between them', async () => {
    const { app } = await testApp();
    const answered: string[] = [];
    const ask = async (url: string) => {
      const { statusCode } = await app.inject({ url });
      answered.push(url);
      return statusCode;
    };
    const papers = Array.from({ length: 60 }, () => ask('/species/1/care-sheet.pdf'));
    expect(await ask('/sign-in')).toBe(200);
    expect(answered.length).toBeLessThan(30);
    expect(new Set(await Promise.all(papers))).toEqual(new Set([303]));
  });
});
