import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { buildApp } from '../../server/app.ts';
import { readConfig } from '../../server/config.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { followPause } from '../../server/plumbing/pause.ts';
import { makeSessions, sha256 } from '../../server/plumbing/sessions.ts';
import { clearFolders, filledFolder, run } from '../backups/shelf.ts';
import { formsOn } from '../support/page-parts.ts';
import { cast, testNow } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { gets } from '../support/walk.ts';

afterAll(clearFolders);

const banner = 'Nothing can be saved for a while, and nobody can sign in. Back at noon.';

/** The service on a database of its own folder, which follows the file of a pause as the real one does. */
async function service() {
  const { at, dir, database, clock } = await filledFolder();
  const { db, sqlite } = openDatabase(database);
  const log: string[] = [];
  const say = (_: object, message: string) => void log.push(message);
  const pausing = followPause({ folder: dir, sqlite, log: { info: say } });
  const config = { ...readConfig({}), logLevel: 'silent' as const, dataDir: dir };
  const app = await buildApp({ db, sqlite, clock, config, pausing });
  await app.ready();
  const sessions = makeSessions(db, clock);
  const signedIn = async (id: string) => new Visitor(app, await sessions.begin(id, 'test'));
  const [owner, helper] = [await signedIn(cast.owner.id), await signedIn(cast.helper.id)];
  const work = { begun: 0, ended: 0, mayEnd: Promise.resolve() };
  pausing.begin(() => {
    work.begun += 1;
    return async () => {
      await work.mayEnd;
      work.ended += 1;
    };
  });
  const command = (...words: string[]) => run('pause', words, { DATA_DIR: dir });
  const until = (settled: boolean) =>
    vi.waitUntil(() => pausing.isSettled() === settled && (pausing.now() !== null) === settled, 5_000);
  const all = {
    app,
    db,
    sqlite,
    clock,
    dir,
    database,
    at,
    pausing,
    log,
    work,
    owner,
    helper,
    command,
    until,
  };
  const pause = async () => {
    await command('on', 'Back at noon.');
    await until(true);
  };
  const goOn = async () => {
    await command('off');
    await until(false);
  };
  const close = async () => {
    await pausing.stop();
    await app.close();
    sqlite.close();
  };
  return { ...all, outsider: new Visitor(app, null), pause, goOn, close };
}

const bytesOf = (file: string) => (existsSync(file) ? readFileSync(file).toString('base64') : '');

describe('a pause', () => {
  it('lets everything be read as before, says so, and leaves the records as they are to the byte', async () => {
    const t = await service();
    const readers = [t.owner, t.helper, t.outsider];
    const walk = async (look: (text: string, type: string) => void) => {
      const found: string[] = [];
      for (const address of gets({ app: t.app } as never)) {
        if (address.path.endsWith('.pdf')) continue;
        for (const [index, reader] of readers.entries()) {
          const { status, text = '', headers } = await reader.get(t.at(address));
          found.push(`${index} ${address.path} ${status}`);
          if (status === 200) look(text, headers['content-type'] ?? '');
        }
      }
      return found;
    };
    await t.pause();
    // sessions that have not been seen for long, a notice that waits: what pages write in passing
    t.clock.at += 20 * 86_400_000;
    const files = () => [bytesOf(t.database), bytesOf(`${t.database}-wal`)];
    const kept = files();
    const paused = await walk((text, type) => {
      const isPage = type.startsWith('text/html') && text.includes('<main');
      if (isPage && !text.includes('page-customer')) expect(text).toContain(banner);
      if (isPage && text.includes('page-customer'))
        expect(text).toContain('nothing can be sent to us just now');
    });
    expect(files()).toEqual(kept);
    await t.goOn();
    expect(await walk((text) => expect(text).not.toContain('nobody can sign in'))).toEqual(paused);
    await t.close();
  });

  it('refuses every form with when to come back, whoever sends it', async () => {
    const t = await service();
    await t.pause();
    const kept = bytesOf(t.database);
    const taken: string[] = [];
    for (const address of t.app.surface.filter(({ method }) => method !== 'GET' && method !== 'HEAD')) {
      // a sensor's readings are JSON with a token of its own: below
      if (address.path === '/sign-out' || address.path === '/api/climate') continue;
      const { status, headers } = await t.owner.post(t.at(address));
      if (status !== 503 || headers['retry-after'] !== '60') taken.push(`${address.path} ${status}`);
    }
    expect(taken).toEqual([]);
    expect(bytesOf(t.database)).toBe(kept);
    await t.close();
  });

  it('loses nothing that was typed: the same form is sent again from the page that refuses it, and counts once', async () => {
    const t = await service();
    await t.pause();
    const typed = { name: '"><b>Quilla</b>', country: 'DE', units: 'metric', paper: 'A4', language: 'en' };
    const { status, text } = await t.owner.post('/customers', typed, { formKey: 'typed-while-paused' });
    expect([status, text.includes('Back at noon.'), text.includes('<b>Quilla')]).toEqual([503, true, false]);
    const form = formsOn(text, '/customers').find(({ fields }) => 'name' in fields);
    expect(form).toMatchObject({ action: '/customers', fields: typed });
    expect(text).toContain('name="formKey" value="typed-while-paused"');
    await t.goOn();
    for (let twice = 0; twice < 2; twice += 1)
      expect((await t.owner.post(form!.action, form!.fields, { formKey: 'typed-while-paused' })).status).toBe(
        303,
      );
    const count = t.sqlite.prepare('SELECT count(*) FROM customers WHERE name = ?').pluck();
    expect(count.get(typed.name)).toBe(1);
    await t.close();
  });

  it('shows no password again, tells who cannot sign in why, and lets everybody sign out', async () => {
    const t = await service();
    const cookie = await makeSessions(t.db, t.clock).begin(cast.helper.id, 'shared');
    const [here, there] = [new Visitor(t.app, cookie), new Visitor(t.app, cookie)];
    await t.pause();
    const signIn = { signInName: 'owner', password: 'moss under bark' };
    const { status, text } = await t.outsider.post('/sign-in', signIn);
    expect([status, text.includes('moss')]).toEqual([503, false]);
    expect(text).toContain('Nobody can sign in while the records are only read.');
    expect((await there.get('/round')).status).toBe(200);
    expect((await here.post('/sign-out')).headers.location).toBe('/sign-in');
    expect((await there.get('/round')).headers.location).toContain('/sign-in');
    await t.goOn();
    const rows = t.sqlite.prepare("SELECT count(*) FROM sessions WHERE device = 'shared'").pluck();
    expect([(await there.get('/round')).status, rows.get()]).toEqual([303, 0]);
    expect((await t.helper.get('/round')).status).toBe(200);
    await t.close();
  });

  it('speaks to customers in their language, and to programs so that they come back', async () => {
    const t = await service();
    await t.pause();
    const page = t.at({ path: '/o/:token' });
    const German = { 'accept-language': 'de' };
    const said = await t.outsider.upload(page, [], { all: 'well', formKey: 'form-of-a-customer' });
    expect([said.status, said.text.includes('your browser sends it again, photos too')]).toEqual([503, true]);
    const asked = await t.outsider.post('/available', { name: 'x' }, { headers: German });
    expect([asked.status, asked.text.includes('Im Moment nicht')]).toEqual([503, true]);
    t.sqlite.pragma('query_only = OFF');
    const token = 'token-of-a-sensor-in-a-test';
    t.sqlite.prepare('UPDATE climate_sensors SET token_hash = ?').run(sha256(token));
    const { statusCode, headers } = await t.app.inject({
      method: 'POST',
      url: '/api/climate',
      headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' },
      payload: '{"tempC": 20}',
    });
    expect([statusCode, headers['retry-after']]).toEqual([503, '60']);
    const ready = JSON.parse((await t.outsider.get('/readyz')).text) as object;
    expect(ready).toMatchObject({ ready: true, writing: 'paused', database: 'ok', schema: 'ok' });
    await t.close();
  });

  it('waits for what is under way, holds over a restart, and takes the work up again once', async () => {
    const t = await service();
    let letEnd = () => {};
    t.work.mayEnd = new Promise((resolve) => {
      letEnd = resolve;
    });
    await t.command('on');
    await vi.waitUntil(() => t.pausing.now() !== null, 5_000);
    expect([t.work.begun, t.work.ended, t.pausing.isSettled()]).toEqual([1, 0, false]);
    expect(JSON.parse((await t.outsider.get('/readyz')).text)).toMatchObject({ writing: 'pausing' });
    expect((await t.owner.post('/customers')).status).toBe(503);
    letEnd();
    await t.until(true);
    expect([t.work.begun, t.work.ended]).toEqual([1, 1]);
    const restarted = followPause({ folder: t.dir, sqlite: t.sqlite, log: { info: () => {} } });
    const begin = vi.fn(() => async () => {});
    restarted.begin(begin);
    expect([restarted.isSettled(), begin.mock.calls.length]).toEqual([true, 0]);
    await restarted.stop();
    t.sqlite.pragma('query_only = ON');
    await t.goOn();
    expect([t.work.begun, t.work.ended, t.log]).toEqual([
      2,
      1,
      ['paused: the records are only read', 'the pause is over'],
    ]);
    await t.close();
  });
});

describe('the command for a pause', () => {
  it('begins, tells and ends one; others that write are refused, and the doctor names it', async () => {
    const { dir } = await filledFolder();
    const env = { DATA_DIR: dir, MIN_FREE_MB: '20' };
    const pause = (...words: string[]) => run('pause', words, env);
    expect((await pause()).output).toBe('Not paused: everything can be written.\n');
    expect((await pause('on', 'Back', 'at noon.')).output).toContain('only read. Back at noon.');
    expect(JSON.parse(readFileSync(join(dir, 'pause.json'), 'utf8'))).toEqual({
      since: testNow,
      words: 'Back at noon.',
    });
    for (const [name, ...words] of [['person', 'end-sessions'], ['without-code', 'owner'], ['new-link-key']])
      expect((await run(name!, words, env)).errors).toContain('npm run pause -- off');
    expect((await run('doctor', [], env)).output).toContain('WRONG  The records are only read');
    expect((await run('backup', [], env)).code).toBe(0);
    writeFileSync(join(dir, 'pause.json'), 'not ours');
    expect((await pause()).output).toBe('Paused: the records are only read.\n');
    expect((await pause('off', 'x')).code).toBe(2);
    expect((await pause('on', 'x'.repeat(201))).code).toBe(2);
    expect((await pause('off')).output).toBe('Not paused: everything can be written.\n');
    expect((await run('person', ['end-sessions'], env)).code).toBe(0);
  });
});
