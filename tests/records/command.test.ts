import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Writable } from 'node:stream';
import { afterAll, describe, expect, it } from 'vitest';
import { exportRecords } from '../../ops/export-command.ts';
import { importRecords, type World } from '../../ops/import-command.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { exportWriters } from '../../server/records/export-files.ts';
import { cast, testApp, testNow } from '../support/test-app.ts';
import { count, csv, cultures, diary, pressBringIn, smallFiles, upload } from './bringing.ts';

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true });
});

function folder(): string {
  const made = mkdtempSync(join(tmpdir(), 'records-command-'));
  folders.push(made);
  return made;
}

/** A folder with the database of a test's app, and files beside it. */
async function bench(files: Record<string, string> = {}) {
  const t = await testApp();
  const dir = folder();
  t.sqlite.prepare('VACUUM INTO ?').run(join(dir, 'broodbench.db'));
  const paths = Object.entries(files).map(([name, text]) => {
    writeFileSync(join(dir, name), text);
    return join(dir, name);
  });
  const read = <T>(look: (sqlite: ReturnType<typeof openDatabase>['sqlite']) => T): T => {
    const { sqlite } = openDatabase(join(dir, 'broodbench.db'));
    const answer = look(sqlite);
    sqlite.close();
    return answer;
  };
  return {
    dir,
    paths,
    read,
    counts: () => read((sqlite) => [count({ sqlite }, 'cultures'), count({ sqlite }, 'diary')]),
  };
}

function world(env: NodeJS.ProcessEnv = {}) {
  const said = { output: '', errors: '' };
  const stream = (name: keyof typeof said) =>
    new Writable({
      write(chunk, _encoding, done) {
        said[name] += String(chunk);
        done();
      },
    });
  const made: World = { output: stream('output'), errors: stream('errors'), env, now: () => testNow };
  return { made, said };
}

async function run(args: string[], env: NodeJS.ProcessEnv = {}) {
  const { made, said } = world(env);
  const code = await importRecords(args, made);
  return { code, ...said };
}

const both = { 'cultures.csv': csv(cultures), 'diary.csv': csv(diary) };
const bad = { ...both, 'diary.csv': csv([...diary, '2025-02-30,A-1,seen,4,,', '2025-03-01,A-1,seen,-4,,']) };

describe('the import command', () => {
  it('says what it is', async () => {
    const { code, output } = await run(['--help']);
    expect(code).toBe(0);
    for (const option of ['--mapping', '--leave-out', '--dry-run', '--data-dir', '--not-brought-in'])
      expect(output).toContain(option);
  });

  it('brings files in as the page does, and knows them again there', async () => {
    const { dir, paths, counts } = await bench(both);
    const first = await run(['--data-dir', dir, '--as', cast.owner.signInName, ...paths]);
    expect([first.code, first.errors]).toEqual([0, '']);
    expect(first.output).toContain('6 rows came in, as import 1.');
    expect(counts()).toEqual([2, 4]);
    const again = await run(paths, { DATA_DIR: dir });
    expect(again.output).toContain('Nothing was written: all of it is there already.');
    expect([again.code, ...counts()]).toEqual([0, 2, 4]);
    // The same database under the page.
    const t = await testApp();
    const { bring } = await import('./bringing.ts');
    await bring(t.db, smallFiles());
    const more = csv([...diary, '2025-09-01,A-2,check,,,']);
    const { path } = await upload(t.owner, [
      ['cultures.csv', both['cultures.csv']],
      ['diary.csv', more],
    ]);
    expect((await t.owner.get(path)).text).toContain('1 of 7 rows come in: 1 diary entry');
    await pressBringIn(t.owner, path);
    expect([count(t, 'cultures'), count(t, 'diary')]).toEqual([2, 5]);
  });

  it('writes nothing on a dry run, nor while a question or a faulty kind is open', async () => {
    const { dir, paths, counts } = await bench(bad);
    const dry = await run(['--data-dir', dir, '--dry-run', paths[0]!]);
    expect([dry.code, ...counts()]).toEqual([0, 0, 0]);
    expect(dry.output).toContain('Nothing was written: this was a dry run.');
    const open = await run(['--data-dir', dir, ...paths]);
    expect([open.code, ...counts()]).toEqual([2, 0, 0]);
    expect(open.output).toContain(
      'date-impossible: A day that is not on the calendar. 1 row of the diary, line 6.',
    );
    expect(open.errors).toContain('2 rows undecided: mend the file, or leave them out with --leave-out');
    const one = await run(['--data-dir', dir, '--leave-out', 'date-impossible', ...paths]);
    expect(one.code).toBe(2);
    const all = ['--leave-out', 'date-impossible', '--leave-out', 'number-negative'];
    expect((await run(['--data-dir', dir, ...all, ...paths])).code).toBe(0);
    expect(counts()).toEqual([2, 4]);
  });

  it('asks for the order of days, and takes it from a mapping that it wrote itself', async () => {
    const { dir, paths, read } = await bench({
      'cultures.csv': csv(cultures),
      'diary.csv': csv([diary[0]!, '02/03/2026,A-1,seen,4,,']),
    });
    const mapping = join(dir, 'mapping.json');
    const asked = await run(['--data-dir', dir, '--write-mapping', mapping, ...paths]);
    expect(asked.code).toBe(2);
    expect(asked.errors).toContain('day and month can be read either way');
    const saved = JSON.parse(readFileSync(mapping, 'utf8'));
    saved.diary.dateOrder = 'mdy';
    writeFileSync(mapping, JSON.stringify(saved));
    expect((await run(['--data-dir', dir, '--mapping', mapping, ...paths])).code).toBe(0);
    expect(read((sqlite) => sqlite.prepare('SELECT on_day FROM diary').pluck().all())).toContain(
      '2026-02-03',
    );
    writeFileSync(mapping, '{"version":1,"x":1}');
    const wrong = await run(['--data-dir', dir, '--mapping', mapping, ...paths]);
    expect([wrong.code, wrong.errors]).toEqual([2, 'This mapping cannot be used. x: is not known here\n']);
  });

  it('writes the rows that stay out to a file of their own', async () => {
    const { dir, paths } = await bench(bad);
    const report = join(dir, 'out.csv');
    await run(['--data-dir', dir, '--not-brought-in', report, ...paths]);
    const list = readFileSync(join(dir, 'out-diary.csv'), 'utf8');
    expect(list.split('\r\n')).toHaveLength(4);
    expect(list).toContain('2025-03-01,A-1,seen,-4,,,7,“-4” is below zero.');
    const alone = await run(['--data-dir', dir, '--not-brought-in', report, paths[1]!]);
    expect(alone.code).toBe(2);
    expect(readFileSync(report, 'utf8')).toContain('There is no culture “A-1”.');
  });

  it('waits its turn while somebody writes, and says so when it does not come', async () => {
    const { dir, paths, counts } = await bench(both);
    const other = openDatabase(join(dir, 'broodbench.db'));
    other.sqlite.exec('BEGIN IMMEDIATE');
    const timer = setTimeout(() => other.sqlite.exec('COMMIT'), 700);
    const late = await run(['--data-dir', dir, ...paths]);
    clearTimeout(timer);
    expect(late.code).toBe(0);
    other.sqlite.close();
    expect(counts()).toEqual([2, 4]);
  });

  const wrongs: [string, string[], number, string][] = [
    ['no file', [], 2, 'Name one or two files.'],
    ['an unknown option', ['--colour', 'x.csv'], 2, "Unknown option '--colour'"],
    ['an unknown kind', ['--leave-out', 'ugly', 'x.csv'], 2, '--leave-out ugly: there is no such kind.'],
    ['a file that is not there', ['/nowhere/x.csv'], 2, '/nowhere/x.csv cannot be read (ENOENT).'],
    ['an unknown person', ['--as', 'nobody', 'x.csv'], 2, '--as nobody: nobody signs in with this name.'],
  ];
  it.each(wrongs)('refuses %s with words', async (_what, args, code, words) => {
    const { dir } = await bench();
    const answer = await run(['--data-dir', dir, ...args]);
    expect(answer.code).toBe(code);
    expect(answer.errors).toContain(words);
  });

  it('never makes a database, nor touches one that is older or not set up', async () => {
    const empty = folder();
    const none = await run(['--data-dir', empty, 'x.csv']);
    expect([none.code, none.errors]).toEqual([
      1,
      `There is no database in ${empty}. Start the service once with npm start, or name its folder.\n`,
    ]);
    const { dir, read } = await bench();
    read((sqlite) => sqlite.exec('DELETE FROM migrations WHERE number > 4'));
    const old = await run(['--data-dir', dir, 'x.csv']);
    expect([old.code, old.errors.startsWith('The database has schema 4')]).toEqual([1, true]);
  });
});

describe('the export command', () => {
  it('writes every file once, for the owner’s eyes only', async () => {
    const { dir, paths, read } = await bench(both);
    await run(['--data-dir', dir, ...paths]);
    const out = join(dir, 'out');
    const { made, said } = world();
    expect(exportRecords(['--data-dir', dir, '--dir', out], made)).toBe(0);
    for (const name of Object.keys(exportWriters))
      expect(readFileSync(join(out, name), 'utf8').length).toBeGreaterThan(10);
    expect(said.output).toContain('cultures.csv');
    // an archive of nothing: two empty blocks
    expect(readFileSync(join(out, 'photos.tar'))).toEqual(Buffer.alloc(1024));
    expect(exportRecords(['--data-dir', dir, '--dir', out], made)).toBe(2);
    expect(said.errors).toContain('Choose another folder, or say --replace.');
    expect(exportRecords(['--data-dir', dir, '--dir', out, '--replace'], made)).toBe(0);
    expect(exportRecords(['--data-dir', dir], made)).toBe(2);
    expect(exportRecords(['--data-dir', folder(), '--dir', out, '--replace'], made)).toBe(1);
    expect(exportRecords(['--help'], made)).toBe(0);
    // Whoever runs it is signed in nowhere, and each time is a line of its own.
    const lines = read((sqlite) =>
      sqlite.prepare('SELECT person_id, subject, way FROM personal_reads').raw().all(),
    );
    expect(lines).toEqual(Array.from({ length: 2 }, () => [null, 'export of everything', 'command']));
  });
});
