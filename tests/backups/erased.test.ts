import { mkdirSync, readFileSync, rmdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { BadBackup } from '../../server/backups/inspect.ts';
import { makeKeeper } from '../../server/backups/keeper.ts';
import { putBack } from '../../server/backups/put-back.ts';
import { readConfig } from '../../server/config.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { databaseName } from '../../shared/backups/manifest.ts';
import { makeCustomer } from '../support/orders.ts';
import { cast, TestClock, testNow } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { backupOf, clearFolders, filledFolder, freshFolder } from './shelf.ts';

afterAll(clearFolders);

const planted = {
  name: 'Quillfeather Brambleworth',
  phone: '+49 5550 190283',
  street: '17 Hollowmere Crescent',
};

/** A service over the files of a data folder, with a customer in it whom the first backup knows. */
async function service() {
  const { dir, database, shelf } = await filledFolder();
  const opened = openDatabase(database);
  const clock = new TestClock();
  const customer = makeCustomer(opened.db, { ...planted, email: 'quill@example.org' });
  const log = { info: vi.fn(), error: vi.fn() };
  const keeper = makeKeeper({ db: opened.db, clock, database, shelf, hook: null, log });
  const config = { ...readConfig({}), logLevel: 'silent' as const, dataDir: dir };
  const app = await buildApp({ ...opened, config, clock, keeper });
  await app.ready();
  const owner = new Visitor(app, await makeSessions(opened.db, clock).begin(cast.owner.id, 'test'));
  const older = await backupOf({ database, shelf });
  const erase = () => owner.post(`/customers/${customer.id}/erase`, { number: String(customer.id) });
  const stop = async () => {
    await app.close();
    opened.sqlite.close();
  };
  return { dir, database, shelf, customer, keeper, log, older, erase, stop };
}

const holds = (file: string) => Object.values(planted).filter((words) => readFileSync(file).includes(words));

describe('who was erased', () => {
  it('stays erased when an older backup is restored, though the database that knew it is lost', async () => {
    const t = await service();
    expect((await t.erase()).status).toBe(303);
    await t.stop();
    for (const folder of [t.dir, t.shelf]) {
      const list = join(folder, 'erased.json');
      expect(statSync(list).mode & 0o777).toBe(0o600);
      expect(JSON.parse(readFileSync(list, 'utf8'))).toEqual([
        { customerId: t.customer.id, customerMadeAt: t.customer.madeAt, erasedAt: testNow },
      ]);
    }
    expect(holds(join(t.older.folder, databaseName))).toEqual(Object.values(planted));

    for (const end of ['', '-wal', '-shm']) rmSync(`${t.database}${end}`, { force: true });
    putBack(t.older.folder, t.dir, { now: testNow + 5, force: false });
    expect(holds(t.database)).toEqual([]);
    const { sqlite } = openDatabase(t.database);
    expect(sqlite.prepare('SELECT name, erased_at FROM customers WHERE id = ?').get(t.customer.id)).toEqual({
      name: `Erased customer ${t.customer.id}`,
      erased_at: testNow,
    });
    sqlite.close();

    // On another machine there is only the folder of the backups.
    const elsewhere = join(freshFolder(), 'new');
    putBack(t.older.folder, elsewhere, { now: testNow + 6, force: false });
    expect(holds(join(elsewhere, databaseName))).toEqual([]);
    expect(statSync(join(elsewhere, 'erased.json')).mode & 0o777).toBe(0o600);
  });

  it('is refused to be forgotten: a list that cannot be read stops the restore', async () => {
    const t = await service();
    await t.erase();
    await t.stop();
    const before = readFileSync(t.database);
    writeFileSync(join(t.dir, 'erased.json'), '[{"customerId":');
    const restoring = () => putBack(t.older.folder, t.dir, { now: testNow + 5, force: true });
    expect(restoring).toThrow(BadBackup);
    expect(restoring).toThrow(/erased\.json says who was erased .* move it away and restore again/);
    expect(readFileSync(t.database).equals(before)).toBe(true);
  });

  it('is written down later where the list could not be written at once', async () => {
    const t = await service();
    const inTheWay = join(t.dir, 'erased.json-new');
    mkdirSync(inTheWay);
    expect((await t.erase()).status).toBe(303);
    expect(t.log.error).toHaveBeenCalledWith(
      expect.anything(),
      expect.stringContaining('list of who was erased'),
    );
    rmdirSync(inTheWay);
    t.keeper.look();
    await t.keeper.idle();
    expect(JSON.parse(readFileSync(join(t.dir, 'erased.json'), 'utf8'))).toHaveLength(1);
    await t.stop();
  });
});
