import { describe, expect, it } from 'vitest';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { people } from '../../server/schema/tables.ts';
import { limits } from '../../shared/records/limits.ts';
import { contentsOf } from '../support/contents.ts';
import { type TestApp, testApp, testNow } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { buffer, count, csv, cultures, diary, hiddenOf, pressBringIn, upload } from './bringing.ts';

const both = [
  ['cultures.csv', csv(cultures)],
  ['diary.csv', csv(diary)],
] as const;
const onlyDiary = (...lines: string[]) => [['diary.csv', csv([diary[0]!, ...lines])]] as const;
const versionOf = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? '';

/** Says one thing about a file and shows the preview again. */
async function say(t: TestApp, path: string, fields: Record<string, string | string[]>, to = '/files/1') {
  const version = versionOf((await t.owner.get(path)).text);
  const sent = await t.owner.post(`${path}${to}`, { version, ...fields });
  return { sent, shown: await t.owner.get(path) };
}

describe('the page of records', () => {
  it('shows what can be brought, and what was', async () => {
    const t = await testApp();
    const page = await t.owner.get('/records');
    expect(page.status).toBe(200);
    expect(page.text).toContain('Look at the files');
    expect(page.text).toContain('/records/export/everything.json');
  });

  it('is the owner’s alone', async () => {
    const t = await testApp();
    expect((await t.helper.get('/records')).status).toBe(403);
    expect((await upload(t.helper, [...both])).sent.status).toBe(403);
    expect((await t.outsider.get('/records')).headers.location).toBe('/sign-in?next=%2Frecords');
  });

  it('takes no files without the token of a form', async () => {
    const t = await testApp();
    const file = { field: 'file1', name: 'd.csv', bytes: buffer(csv(diary)) };
    expect((await t.owner.upload('/records/drafts', file, {}, { csrf: 'wrong' })).status).toBe(403);
    expect(count(t, 'import_drafts')).toBe(0);
  });
});

describe('files that are no records', () => {
  const gif = new Uint8Array([0x47, 0x49, 0x46, 0x38, 0x39, 0x61, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
  it.each([
    ['an empty file', new Uint8Array(), 'This file is empty.'],
    ['a workbook', new Uint8Array([0x50, 0x4b, 3, 4, 20]), 'This is a workbook, not a CSV file.'],
    ['a PDF', '%PDF-1.7 and more', 'This file is not text.'],
    ['bytes', gif, 'This file is not text.'],
    ['too many columns', `${'a,'.repeat(300)}b\n1\n`, 'This file has more than 200 columns.'],
  ])('%s comes back with the reason beside it, and nothing is kept', async (_what, content, reason) => {
    const t = await testApp();
    const { sent } = await upload(t.owner, [['x.csv', content]]);
    expect(sent.status).toBe(422);
    expect(sent.text).toContain(reason);
    expect(count(t, 'import_drafts')).toBe(0);
  });

  it('none at all, or two of one kind, are told so', async () => {
    const t = await testApp();
    expect((await t.owner.upload('/records/drafts', [])).text).toContain('Choose a CSV file.');
    const twice = await upload(t.owner, [both[1], both[1]]);
    expect(twice.sent.status).toBe(422);
    expect(twice.sent.text).toContain('Both files look like a diary.');
  });

  it('one byte more than 10 MB is refused with a page that says so', async () => {
    const t = await testApp();
    const { sent } = await upload(t.owner, [['big.csv', new Uint8Array(limits.bytes + 1).fill(0x61)]]);
    expect(sent.status).toBe(413);
    expect(sent.text).toContain('At most 10 MB can be read at once.');
    expect(count(t, 'import_drafts')).toBe(0);
  });
});

describe('an upload', () => {
  it('is shown with what would come in, and writes nothing', async () => {
    const t = await testApp();
    const before = contentsOf(t.sqlite);
    const { sent, path } = await upload(t.owner, [...both]);
    expect(sent.status).toBe(303);
    const page = await t.owner.get(path);
    expect(page.text).toContain('6 of 6 rows come in: 2 cultures and 4 diary entries');
    expect(page.text).toContain('Bring in 6 rows');
    expect(page.text).toContain('A new isopod');
    const after = contentsOf(t.sqlite);
    for (const table of ['cultures', 'diary', 'species', 'places', 'imports'])
      expect(after[table]).toBe(before[table]);
  });

  it('is seen by whoever brought it, and by nobody else', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [...both]);
    t.db
      .insert(people)
      .values({
        id: 'other',
        signInName: 'other',
        name: 'Otto Other',
        role: 'owner',
        passwordHash: 'none',
        active: true,
        scheme: 'system',
        madeAt: testNow,
      })
      .run();
    const other = new Visitor(t.app, await makeSessions(t.db, t.clock).begin('other', 'test'));
    for (const address of [path, `${path}/mapping.json`, `${path}/files/1/not-brought-in.csv`])
      expect((await other.get(address)).status, address).toBe(404);
    for (const address of [`${path}/bring-in`, `${path}/throw-away`, `${path}/left-out`, `${path}/files/1`])
      expect((await other.post(address, { seen: 'x', version: 1 })).status, address).toBe(404);
    expect((await t.helper.get(path)).status).toBe(403);
    expect((await t.owner.get(path)).status).toBe(200);
  });

  it('that was thrown away is not there any more', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [...both]);
    expect((await t.owner.get('/records')).text).toContain(path);
    expect((await t.owner.post(`${path}/throw-away`)).headers.location).toBe('/records');
    expect((await t.owner.get(path)).status).toBe(404);
    expect([count(t, 'import_drafts'), count(t, 'import_uploads')]).toEqual([0, 0]);
  });

  it('in another encoding is read, and broken letters are told', async () => {
    const t = await testApp();
    const line = '2025-02-01,A-1,note,,Käfer “größer”,';
    const text = csv([diary[0]!, line]);
    const utf16 = Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, 'utf16le')]);
    const western = Buffer.from(text.replace(/[“”]/g, '"').replace('"größer"', 'größer'), 'latin1');
    for (const [bytes, encoding] of [
      [utf16, 'UTF-16, little end first'],
      [western, 'Windows-1252'],
    ] as const) {
      const { path } = await upload(t.owner, [both[0], ['diary.csv', bytes]]);
      const page = await t.owner.get(path);
      expect(page.text).toContain(encoding);
      expect(page.text).toContain('Käfer');
    }
    const broken = Buffer.concat([Buffer.from(text), Buffer.from([0xe2, 0x82]), Buffer.from('\n')]);
    const { path } = await upload(t.owner, [both[0], ['diary.csv', broken]]);
    const page = await t.owner.get(path);
    expect(page.text).toContain('1 place in this file cannot be read as');
    expect(page.text).toContain('Letters that cannot be read');
  });

  it('is shown as text, whatever is in it', async () => {
    const t = await testApp();
    const bad = '<script>alert(1)</script>';
    const lines = [
      `2025-02-01,A-1,note,,${bad},${bad}`,
      `2025-02-30,${bad},=1+1,"<img src=x onerror=y>",'",`,
    ];
    const { path } = await upload(t.owner, [
      [`<b>cultures</b>.csv`, csv(cultures).replace('Dusk', bad).replace('6 qt tub', `${bad} 6 qt`)],
      [`"><script>.csv`, csv([diary[0]!.replace('Note', bad), ...lines])],
    ]);
    const page = await t.owner.get(path);
    expect(page.status).toBe(200);
    expect(page.text).toContain('&lt;script>alert(1)&lt;/script>');
    for (const never of ['<script>alert', '<img src=x', '<b>cultures', '"><script>'])
      expect(page.text.includes(never), never).toBe(false);
    const mend = await t.owner.get(`${path}/files/2/rows/3`);
    expect(mend.status).toBe(200);
    expect(/<script>alert|<img src=x/.test(mend.text)).toBe(false);
  });
});

describe('what is said about a file', () => {
  it('answers a question about days, asked first', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [
      both[0],
      ['diary.csv', csv([diary[0]!, '02/03/2026,A-1,seen,4,,', '05/03/2026,A-1,seen,5,,'])],
    ]);
    const asked = await t.owner.get(path);
    expect(asked.text).toContain('Which day is meant?');
    expect(asked.text).toContain('Monday, 2 March 2026');
    expect(asked.text).toContain('Tuesday, 3 February 2026');
    expect(/<button[^>]*disabled[^>]*>Bring in/.test(asked.text)).toBe(true);
    const { shown } = await say(t, path, { part: 'dates', dateOrder: 'mdy' }, '/files/2');
    expect(shown.text).not.toContain('Which day is meant?');
    expect(/<button[^>]*disabled[^>]*>Bring in/.test(shown.text)).toBe(false);
    expect(shown.text).toContain('month first');
  });

  it('gives columns and words their meaning', async () => {
    const t = await testApp();
    const lines = ['When,Tub,Thing,How many', '2025-02-01,A-1,peeked,4', '2025-02-02,A-1,count,9'];
    const { path } = await upload(t.owner, [both[0], ['diary.csv', csv(lines)]]);
    const before = await t.owner.get(path);
    expect(before.text).toContain('Say which column holds: what was done.');
    const twice = { 'column.0': 'date', 'column.1': 'code', 'column.2': 'what', 'column.3': 'what' };
    const wrong = await say(t, path, { part: 'columns', ...twice }, '/files/2');
    expect(wrong.sent.status).toBe(422);
    expect(wrong.sent.text).toContain('“Thing” is taken for what was done or seen already.');
    const right = { ...twice, 'column.3': 'number' };
    const read = await say(t, path, { part: 'columns', ...right }, '/files/2');
    expect(read.sent.status).toBe(303);
    expect(read.shown.text).toContain('2 words are open');
    expect(read.shown.text).toContain('A word that is not understood');
    const words = { 'word.peeked': 'visible count', 'word.count': 'full count' };
    const { shown } = await say(t, path, { part: 'words', ...words }, '/files/2');
    expect(shown.text).toContain('4 of 4 rows come in: 2 cultures and 3 diary entries');
    expect(shown.text).toContain('9 counted, all of them');
  });

  it('mends a row by its cells, and takes the mend back', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [both[0], onlyDiary('2025-02-01,A-1,seen,-4,,')[0]]);
    const row = `${path}/files/2/rows/2`;
    const asked = await t.owner.get(row);
    expect(asked.text).toContain('“-4” is below zero.');
    const { version } = hiddenOf(asked.text, row);
    const cells = ['2025-02-01', 'A-1', 'seen', '4', '', ''];
    const fields = Object.fromEntries(cells.map((cell, at) => [`cell.${at}`, cell]));
    expect((await t.owner.post(row, { version: version!, ...fields })).status).toBe(303);
    const mended = await t.owner.get(path);
    expect(mended.text).toContain('3 of 3 rows come in');
    expect(mended.text).toContain('Mended here:');
    const back = await say(t, path, { takeBack: 'yes' }, '/files/2/rows/2');
    expect(back.shown.text).toContain('A number below zero');
    expect((await t.owner.get(`${path}/files/2/rows/99`)).status).toBe(404);
  });

  it('leaves a kind of faulty row out, and takes it up again', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [
      both[0],
      onlyDiary('2025-02-30,A-1,seen,4,,', '2025-02-01,A-1,seen,4,,')[0],
    ]);
    const shown = ['diary date-impossible'];
    const out = await say(t, path, { shown, leaveOut: shown }, '/left-out');
    expect(out.shown.text).toContain('3 of 4 rows come in');
    expect(out.shown.text).toContain('Left out knowingly.');
    const list = await t.owner.get(`${path}/files/2/not-brought-in.csv`);
    expect(list.headers['content-disposition']).toContain('attachment');
    expect(list.text).toContain('2025-02-30,A-1,seen,4,,,2,“2025-02-30” is no day of the calendar.');
    const again = await say(t, path, { shown }, '/left-out');
    expect(again.shown.text).toContain('1 row in 1 kind cannot come in as it is');
  });

  it('corrects a code that is written otherwise throughout', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [both[0], onlyDiary('2025-02-01,Big one,seen,4,,')[0]]);
    expect((await t.owner.get(path)).text).toContain('“Big one” is');
    const { shown } = await say(t, path, { part: 'codes', 'code.Big one': 'A-1' }, '/files/2');
    expect(shown.text).toContain('3 of 3 rows come in');
  });

  it('says what species, enclosures and rooms are', async () => {
    const t = await testApp();
    const list = csv(cultures)
      .replaceAll('Porcellio laevis', 'Exemplum novum')
      .replaceAll('6 qt tub', 'big tub');
    const { path } = await upload(t.owner, [['cultures.csv', list]]);
    const asked = await t.owner.get(path);
    expect(asked.text).toContain('Say what kind of animal Exemplum novum is');
    expect(asked.text).toContain('Say how much “big tub” holds');
    const wrong = await say(t, path, { 'species.0': 'group:isopod', 'holds.0': 'much' }, '/stock');
    expect(wrong.sent.status).toBe(422);
    expect(wrong.sent.text).toContain('value="much"');
    const { shown } = await say(
      t,
      path,
      { 'species.0': 'group:isopod', 'holds.0': '12', room: 'Shed' },
      '/stock',
    );
    expect(shown.text).toContain('2 of 2 rows come in');
    await pressBringIn(t.owner, path);
    const row = (sql: string) => t.sqlite.prepare(sql).get();
    expect(row("SELECT animal_group FROM species WHERE scientific_name = 'Exemplum novum'")).toEqual({
      animal_group: 'isopod',
    });
    expect(row('SELECT name, measured FROM enclosures')).toEqual({ name: 'big tub', measured: 0 });
    expect(
      row('SELECT full_name FROM places WHERE id = (SELECT place_id FROM cultures WHERE id = 2)'),
    ).toEqual({
      full_name: 'Shed / Rack 1 / 10',
    });
  });

  it('reads the file itself otherwise, or says why it cannot be', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [...both]);
    const format = { part: 'format', encoding: 'utf-8', delimiter: ';', headerLine: '1' };
    const other = await say(t, path, { ...format, kind: 'diary' }, '/files/2');
    expect(other.shown.text).toContain('parted by semicolons');
    expect(other.shown.text).toContain('Say which column holds');
    const both2 = await say(t, path, { ...format, kind: 'cultures', delimiter: ',' }, '/files/2');
    expect(both2.sent.status).toBe(422);
    expect(both2.sent.text).toContain('Both files are taken for a list of cultures.');
    const tab = await say(t, path, { ...format, kind: 'diary', delimiter: '\t' }, '/files/2');
    expect(tab.sent.status).toBe(303);
    expect(tab.shown.text).toContain('parted by tabs');
    const rules = await say(t, path, { part: 'rules', decimalMark: ',', largestColony: 'x' }, '/files/2');
    expect(rules.sent.status).toBe(422);
    expect((await say(t, path, { part: 'nonsense' }, '/files/2')).sent.status).toBe(404);
    expect((await t.owner.post(`${path}/files/3`, { part: 'rules', version: 1 })).status).toBe(404);
  });

  it('is saved as a mapping and taken from one', async () => {
    const t = await testApp();
    const lines = ['When,Tub,Event,How many', '2025-02-01,A-1,peeked,4'];
    const files = [both[0], ['diary.csv', csv(lines)]] as const;
    const first = await upload(t.owner, [...files]);
    await say(t, first.path, { part: 'words', 'word.peeked': 'visible count' }, '/files/2');
    const saved = await t.owner.get(`${first.path}/mapping.json`);
    expect(saved.headers['content-type']).toContain('application/json');
    const mapping = { field: 'mapping', name: 'mapping.json', bytes: Buffer.from(saved.text) };
    const second = await upload(t.owner, [...files]);
    const version = versionOf((await t.owner.get(second.path)).text);
    expect((await t.owner.upload(`${second.path}/mapping`, mapping, { version })).status).toBe(303);
    expect((await t.owner.get(second.path)).text).toContain('3 of 3 rows come in');
    const atOnce = await t.owner.upload('/records/drafts', [
      ...files.map(([name, content], at) => ({ field: `file${at + 1}`, name, bytes: buffer(content) })),
      mapping,
    ]);
    expect((await t.owner.get(String(atOnce.headers.location))).text).toContain('3 of 3 rows come in');
    const none = { ...mapping, bytes: Buffer.from('{"version":1,"x":2}') };
    const refused = await t.owner.upload(`${second.path}/mapping`, none, { version });
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('x: is not known here');
  });

  it('in two windows at once is noticed, and neither is lost in silence', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [both[0], onlyDiary('2025-02-30,A-1,seen,4,,')[0]]);
    const version = versionOf((await t.owner.get(path)).text);
    const shown = 'diary date-impossible';
    await t.owner.post(`${path}/left-out`, { version, shown, leaveOut: shown });
    const late = await t.owner.post(`${path}/left-out`, { version, shown });
    expect(late.status).toBe(303);
    const page = await t.owner.get(path);
    expect(page.text).toContain('Something else was said about these files meanwhile');
    expect(page.text).toContain('Left out knowingly.');
  });
});

describe('the button', () => {
  it('brings all in once, however often it is pressed', async () => {
    const t = await testApp();
    const { path } = await upload(t.owner, [...both]);
    const preview = await t.owner.get(path);
    const fields = hiddenOf(preview.text, `${path}/bring-in`);
    const formKey = 'the-same-form-key-01';
    const first = await t.owner.post(`${path}/bring-in`, fields, { formKey });
    expect([first.status, first.headers.location]).toEqual([303, '/records/imports/1']);
    const again = await t.owner.post(`${path}/bring-in`, fields, { formKey });
    expect([again.status, again.headers.location]).toEqual([303, '/records/imports/1']);
    expect([count(t, 'cultures'), count(t, 'diary'), count(t, 'imports')]).toEqual([2, 4, 2]);
    expect((await t.owner.get(path)).status).toBe(404);
    const page = await t.owner.get('/records/imports/1');
    expect(page.text).toContain('Working out how many animals are in each culture.');
    expect(page.text).toContain('0 of 2 cultures worked out');
    expect((await t.owner.get('/records')).text).toContain('cultures.csv, diary.csv');
  });

  it('does nothing while anything is open, or when the records are others by now', async () => {
    const t = await testApp();
    const open = await upload(t.owner, [both[0], onlyDiary('2025-02-30,A-1,seen,4,,')[0]]);
    expect((await pressBringIn(t.owner, open.path)).headers.location).toBe(open.path);
    expect(count(t, 'cultures')).toBe(0);
    const seen = await upload(t.owner, [both[0]]);
    const fields = hiddenOf((await t.owner.get(seen.path)).text, `${seen.path}/bring-in`);
    const first = await upload(t.owner, [['one.csv', csv(cultures.slice(0, 2))]]);
    await pressBringIn(t.owner, first.path);
    const late = await t.owner.post(`${seen.path}/bring-in`, fields);
    expect(late.headers.location).toBe(seen.path);
    expect((await t.owner.get(seen.path)).text).toContain('something changed since you looked at this');
    expect(count(t, 'cultures')).toBe(1);
    expect((await pressBringIn(t.owner, seen.path)).headers.location).toBe('/records/imports/2');
    expect(count(t, 'cultures')).toBe(2);
  });

  it('shows the progress of the estimates to htmx alone, until they are there', async () => {
    const t = await testApp();
    await pressBringIn(t.owner, (await upload(t.owner, [...both])).path);
    const part = await t.owner.get('/records/imports/1', { 'HX-Request': 'true' });
    expect(part.text).toContain('hx-trigger="every 2s"');
    expect(part.text.startsWith('<div id="estimates"')).toBe(true);
    const { refreshStale } = await import('../../server/counts/refresh-all.ts');
    await refreshStale(t.db, { today: '2026-11-25', now: t.clock.now, threads: 1 });
    const done = await t.owner.get('/records/imports/1', { 'HX-Request': 'true' });
    expect(done.text).toContain('2 cultures are worked out.');
    expect(done.text).not.toContain('hx-trigger');
  });
});
