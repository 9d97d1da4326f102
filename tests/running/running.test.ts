import { chmodSync, existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { makeKeeper } from '../../server/backups/keeper.ts';
import { idleSettings, readConfig } from '../../server/config.ts';
import { BadFolder, checkDataFolder, networkKindOf } from '../../server/plumbing/data-folder.ts';
import { watchDisk } from '../../server/plumbing/disk.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { logFaults } from '../../server/running/log-faults.ts';
import { tellTroubles } from '../../server/running/tell-troubles.ts';
import { backupOf, clearFolders, filledFolder, freshFolder } from '../backups/shelf.ts';
import { cast } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';

afterAll(clearFolders);

const silent = { info: () => {}, error: () => {} };
const token = 'a token of twenty letters';

/** The service as main.ts builds it, with a disk whose free room the test says. */
async function service(freeBytes = 5e9) {
  const bench = await filledFolder();
  const { db, sqlite, clock, database, shelf } = bench;
  const room = { bytes: freeBytes };
  const disk = watchDisk({
    folder: bench.dir,
    minFreeBytes: 200e6,
    clock,
    ask: () => ({ free: room.bytes, total: 20e9 }),
  });
  const keeper = makeKeeper({
    ...{ db, clock, database, shelf, log: silent, hook: null },
    take: (taking) => backupOf(bench, taking.now),
  });
  const config = { ...readConfig({ METRICS_TOKEN: token }), logLevel: 'silent' as const, dataDir: bench.dir };
  const app = await buildApp({ db, sqlite, clock, config, keeper, disk });
  await app.ready();
  const sessions = makeSessions(db, clock);
  const owner = new Visitor(app, await sessions.begin(cast.owner.id, 'test'));
  const helper = new Visitor(app, await sessions.begin(cast.helper.id, 'test'));
  const outsider = new Visitor(app, null);
  return { ...bench, app, room, keeper, disk, owner, helper, outsider };
}

const ready = async (visitor: Visitor) => {
  const { status, text } = await visitor.get('/readyz');
  return { status, ...(JSON.parse(text) as object) };
};

describe('the health of the service', () => {
  it('is told without anything that strangers could use', async () => {
    const t = await service();
    expect((await t.outsider.get('/healthz')).text).toBe('ok\n');
    const fine = { database: 'ok', writing: 'ok', schema: 'ok', disk: 'ok', mails: 'off' };
    expect(await ready(t.outsider)).toEqual({ status: 200, ready: true, ...fine, backup: 'late' });
    t.keeper.begin('nightly');
    await t.keeper.idle();
    t.clock.at += 2_000;
    t.room.bytes = 1e6;
    expect(await ready(t.outsider)).toEqual({
      status: 503,
      ready: false,
      ...fine,
      disk: 'full',
      backup: 'ok',
    });
    t.room.bytes = 5e9;
    t.clock.at += 2_000;
    t.sqlite.exec('BEGIN');
    t.sqlite.exec('DELETE FROM migrations WHERE number = (SELECT max(number) FROM migrations)');
    expect(await ready(t.outsider)).toMatchObject({ status: 503, schema: 'wrong' });
    t.sqlite.exec('ROLLBACK');
    await t.app.close();
  });

  it('is counted for a scraper with the token, and for nobody else', async () => {
    const t = await service();
    await t.owner.get('/orders/1');
    expect((await t.owner.get('/metrics')).status).toBe(404);
    const headers = (shown: string) => ({ authorization: `Bearer ${shown}` });
    const ask = (shown: string) => t.app.inject({ url: '/metrics', headers: headers(shown) });
    expect((await ask('another token of the settings')).statusCode).toBe(404);
    const { statusCode, body, headers: got } = await ask(token);
    expect([statusCode, String(got['content-type'])]).toEqual([
      200,
      expect.stringMatching(/^text\/plain; version=/),
    ]);
    expect(body).toContain('broodbench_ready 1');
    expect(body).toContain('route="/orders/:number",status="2xx"');
    // Prometheus, "Exposition formats": each line is a comment or a name, its labels and a number.
    for (const line of body.split('\n').filter((one) => one && !one.startsWith('#')))
      expect(line).toMatch(/^[a-z_:][a-z0-9_:]*(\{[^}]*\})? (-?[\d.e+-]+|NaN|\+Inf)$/i);
    for (const secret of [t.dir, 'Carla', token]) expect(body).not.toContain(secret);
    await t.app.close();
  });
});

describe('a disk that is nearly full', () => {
  it('keeps what writes away, goes on to be read, and takes writes again when there is room', async () => {
    const t = await service();
    t.disk.freeBytes();
    expect(statSync(join(t.dir, 'reserve')).size).toBe(16_000_000);
    const write = () => t.owner.post('/settings/backups');
    const told = () => t.sqlite.prepare("SELECT tells_of, plain FROM mails WHERE kind = 'warning'").all();
    tellTroubles(t);
    expect(told()).toEqual([]);
    t.room.bytes = 1.5e9;
    t.clock.at += 2_000;
    expect((await t.owner.get('/orders')).text).toContain('The disk is getting full: 1500 MB are left.');
    for (let minute = 0; minute < 3; minute += 1) tellTroubles(t);
    expect(told()).toEqual([
      {
        tells_of: 'warning disk 2026-11-25',
        plain: expect.stringContaining('1500 MB are left on the disk with the records.'),
      },
    ]);
    t.room.bytes = 100e6;
    t.clock.at += 2_000;
    const refused = await write();
    expect(refused.status).toBe(507);
    expect(refused.text).toContain('The disk is nearly full');
    const page = await t.owner.get('/orders');
    expect(page.status).toBe(200);
    expect(page.text).toContain('The disk is nearly full (100 MB are left): nothing can be saved.');
    expect((await t.helper.get('/round')).text).not.toContain('MB are left');
    expect((await t.outsider.post('/sign-in', { signInName: 'x', password: 'x' })).status).toBe(422);
    t.room.bytes = 3e6;
    t.clock.at += 2_000;
    t.disk.freeBytes();
    expect(existsSync(join(t.dir, 'reserve'))).toBe(false);
    t.room.bytes = 5e9;
    t.clock.at += 2_000;
    expect((await write()).status).toBe(303);
    await t.keeper.idle();
    await t.app.close();
  });

  it('that is full at once loses nothing that was there, and says so', async () => {
    const t = await service();
    const { page_count: pages } = (t.sqlite.pragma('page_count') as [{ page_count: number }])[0];
    t.sqlite.pragma(`max_page_count = ${pages}`);
    const write = async () => (await t.owner.post('/settings/backups')).status;
    let status = 303;
    for (let sent = 0; sent < 200 && status === 303; sent += 1) status = await write();
    expect(status).toBe(507);
    expect((await t.owner.get('/cultures')).status).toBe(200);
    t.sqlite.pragma('max_page_count = 1000000');
    expect(await write()).toBe(303);
    await t.keeper.idle();
    await t.app.close();
  });
});

describe('a database that may not be written, or is damaged', () => {
  it('is still read, and says why nothing is saved', async () => {
    const t = await service();
    t.sqlite.pragma('query_only = ON');
    const refused = await t.owner.post('/settings/backups');
    expect([refused.status, refused.headers['retry-after']]).toEqual([503, '2']);
    expect(refused.text).toContain('may not write to its disk');
    expect((await t.owner.get('/orders')).status).toBe(200);
    expect(await ready(t.outsider)).toMatchObject({ status: 503, database: 'cannot be written' });
    await t.app.close();
  });

  it('is not served: a page in words, and one line an hour that names the newest good backup', async () => {
    const t = await service();
    t.keeper.begin('nightly');
    await t.keeper.idle();
    const lines: { o: object; m: string }[] = [];
    const log = { error: (o: object, m: string) => lines.push({ o, m }) };
    const onFault = logFaults({ log, clock: t.clock, keeper: t.keeper, disk: t.disk });
    for (let minute = 0; minute < 61; minute += 1) {
      onFault('damaged');
      t.clock.at += 60_000;
    }
    expect(lines).toHaveLength(2);
    expect(lines[0]).toMatchObject({ o: { backup: t.keeper.list()[0]!.folder }, m: /restore/ });

    const corrupt = Object.assign(new Error('database disk image is malformed'), {
      name: 'SqliteError',
      code: 'SQLITE_CORRUPT',
    });
    t.app.log.error = () => {};
    const original = t.sqlite.prepare;
    t.sqlite.prepare = () => {
      throw corrupt;
    };
    for (const path of ['/round', '/orders', '/', '/nowhere']) {
      const { status, text } = await t.owner.get(path);
      expect([path, status]).toEqual([path, 503]);
      expect(text).toContain('The records cannot be read just now');
      expect(text).not.toContain('malformed');
    }
    t.sqlite.prepare = original;
    expect((await t.owner.get('/round')).status).toBe(200);
    await t.app.close();
  });
});

describe('the page of the backups', () => {
  it('lists them, makes one when asked, and warns on every page of the owner when none is proven', async () => {
    const t = await service();
    const empty = await t.owner.get('/settings/backups');
    expect(empty.text).toContain('There are no backups yet.');
    expect(empty.text).toContain('No backup has been proven yet: the first is made by itself');
    expect(empty.text).not.toContain('Take care');
    expect((await t.helper.get('/settings/backups')).status).toBe(403);
    expect((await t.owner.post('/settings/backups')).headers.location).toBe('/settings/backups');
    expect((await t.owner.get('/settings/backups')).text).toContain('Look again');
    await t.keeper.idle();
    const listed = await t.owner.get('/settings/backups');
    expect(listed.text).toContain('Last proven restore: ');
    expect(listed.text).toContain('once, and whole');
    expect(listed.text).not.toContain('No backup has been proven');
    t.clock.at += 37 * 3_600_000;
    expect((await t.owner.get('/orders')).text).toContain('No backup has been proven for a day and a half.');
    await t.app.close();
  });
});

describe('the settings', () => {
  it('are named when they do nothing', () => {
    expect(
      idleSettings({ PATH: '/bin', HOME: '/root', XDG_DATA_DIRS: '/usr', HOSTNAME: 'x', PORT: '1' }),
    ).toEqual([]);
    expect(
      idleSettings({ BACKUP_DIRR: 'x', broodbench_data_dir: 'x', PORT: '1', PORT_FILE: 'x', SMTP_USER: 'x' }),
    ).toEqual([
      'BACKUP_DIRR is no setting; BACKUP_DIR may be meant.',
      'PORT_FILE is not read, because PORT is set.',
      'SMTP_USER: nothing is sent while SMTP_HOST is not set.',
      'broodbench_data_dir is no setting; DATA_DIR may be meant.',
    ]);
  });

  it('are refused with all faults at once, those of files and of what hangs together too', () => {
    const wrong = () =>
      readConfig({
        HOST: '0.0.0.0',
        BASE_URL: 'http://bench.example.org/a%20b?x=1',
        SMTP_PASSWORD_FILE: '/nowhere/x',
      });
    for (const words of [
      /PLAIN_HTTP=yes/,
      /BASE_URL: without TLS/,
      /BASE_URL: must be a host/,
      /BASE_URL: its path/,
      /SMTP_PASSWORD_FILE: \/nowhere\/x cannot/,
    ])
      expect(wrong).toThrow(words);
  });
});

describe('the data folder', () => {
  const check = (dataDir: string, o: { type?: number; allowsNetworkFolder?: boolean } = {}) =>
    checkDataFolder(
      { dataDir, backupDir: join(dataDir, 'backups'), allowsNetworkFolder: o.allowsNetworkFolder ?? false },
      () => o.type ?? 0xef53,
    );

  it('is made when it is missing, for its owner alone', () => {
    const folder = join(freshFolder(), 'a', 'b');
    check(folder);
    expect(statSync(folder).mode & 0o777).toBe(0o700);
  });

  it('is refused in words when it is none, lies elsewhere, or its database is gone', () => {
    const file = join(freshFolder(), 'file');
    writeFileSync(file, '');
    expect(() => check(file)).toThrow(new RegExp(`${file} is no folder`));
    const folder = freshFolder();
    expect(() => check(folder, { type: 0x6969 })).toThrow(/another machine \(NFS\)/);
    expect(() => check(folder, { type: 0x6969, allowsNetworkFolder: true })).not.toThrow();
    // statfs gives the number with its sign on some machines (linux/magic.h: CIFS 0xFF534D42).
    expect(networkKindOf(0xff534d42 | 0)).toBe('SMB');
    writeFileSync(join(folder, 'broodbench.db-wal'), 'something');
    expect(() => check(folder)).toThrow(/broodbench.db-wal is there but broodbench.db is not/);
    const other = freshFolder();
    mkdirSync(join(other, 'backups', '20261125T110000Z-nightly'), { recursive: true });
    expect(() => check(other)).toThrow(/npm run restore -- .*20261125T110000Z-nightly/);
    expect(readFileSync(join(folder, 'broodbench.db-wal'), 'utf8')).toBe('something');
    expect(existsSync(join(folder, 'broodbench.db'))).toBe(false);
  });

  it('that may not be written to is refused with whose it is', () => {
    const folder = freshFolder();
    writeFileSync(join(folder, 'broodbench.db'), '');
    chmodSync(folder, 0o500);
    const own = process.getuid?.() ?? 0;
    if (own === 0) process.seteuid?.(65_534);
    try {
      expect(() => check(folder)).toThrow(BadFolder);
      expect(() => check(folder)).toThrow(
        new RegExp(`cannot be written to \\(EACCES\\). It belongs to user ${own}, this`),
      );
    } finally {
      if (own === 0) process.seteuid?.(0);
    }
  });
});
