import { describe, expect, it } from 'vitest';
import { labelPrints, labelSheets } from '../../server/schema/tables.ts';
import { decodeQr, readPdf } from '../documents/read-pdf.ts';
import { givePassword, goodPassword } from '../support/sign-in.ts';
import { makeCulture, makePlace, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp } from '../support/test-app.ts';

const sheet = {
  name: '24 to a sheet',
  columns: '3',
  rows: '8',
  marginTop: '10',
  marginLeft: '7,5',
  gapAcross: '2.5',
  gapDown: '0',
  labelWidth: '63.5',
  labelHeight: '33.9',
};

const sheets = ({ db }: TestApp) => db.select().from(labelSheets).all();

async function withSheet(env: NodeJS.ProcessEnv = {}) {
  const app = await testApp(env);
  expect((await app.owner.post('/label-sheets', sheet)).status).toBe(303);
  return app;
}

describe('a sheet of labels', () => {
  it('is measured, shown, changed and removed by the owner', async () => {
    const app = await withSheet();
    expect(sheets(app)).toMatchObject([
      {
        ...{ name: '24 to a sheet', columns: 3, marginLeftMm: 7.5, marginRightMm: null },
        labelWidthMm: 63.5,
      },
    ]);
    expect((await app.owner.get('/label-sheets')).text).toContain(
      '3 across, 8 down, each 63.5 by 33.9\u00a0mm',
    );
    const page = await app.owner.get('/label-sheets/1');
    expect(page.text).toContain('<svg class="sheet-picture"');
    const version = /name="version" value="(\w+)"/.exec(page.text)?.[1] ?? '';
    expect((await app.owner.post('/label-sheets/1', { ...sheet, rows: '7', version })).status).toBe(303);
    expect(sheets(app)[0]?.rows).toBe(7);
    const late = await app.owner.post('/label-sheets/1', { ...sheet, rows: '6', version });
    expect(late.status).toBe(409);
    expect(late.text).toContain('value="6"');
    expect((await app.owner.post('/label-sheets/1/remove')).status).toBe(303);
    expect(sheets(app)).toEqual([]);
  });

  it('is no business of helpers, who print on it', async () => {
    const app = await withSheet();
    for (const path of ['/label-sheets', '/label-sheets/new', '/label-sheets/1'])
      expect((await app.helper.get(path)).status, path).toBe(403);
    expect((await app.helper.post('/label-sheets', { ...sheet, name: 'mine' })).status).toBe(403);
    expect((await app.helper.post('/label-sheets/1/remove')).status).toBe(403);
    expect((await app.helper.get('/labels')).status).toBe(200);
    expect((await app.outsider.get('/labels')).headers.location).toBe('/sign-in?next=%2Flabels');
  });

  it.each([
    [
      'labelWidth',
      '70',
      '3 labels of 70\u00a0mm with their margins and gaps need 222.5\u00a0mm; A4 is 210\u00a0mm wide.',
    ],
    [
      'labelHeight',
      '60',
      '8 labels of 60\u00a0mm with their margins and gaps need 490\u00a0mm; A4 is 297\u00a0mm high.',
    ],
    ['columns', '2.5', 'Write a whole number'],
    ['rows', 'many', 'Write a whole number'],
    ['marginTop', '-1', 'Must be between 0 and 200.'],
    ['gapDown', '1e9', 'Write a number'],
    ['labelHeight', '9', 'below 0.4\u00a0mm phones often fail'],
  ])(
    'with a wrong %s (%s) is refused beside the field, and nothing typed is lost',
    async (field, value, says) => {
      const app = await testApp();
      const typed = { ...sheet, name: 'a <b>name</b>', [field]: value };
      const answer = await app.owner.post('/label-sheets', typed);
      expect(answer.status).toBe(422);
      const [, error = ''] = new RegExp(`id="field-${field}-error">(.*?)</p>`).exec(answer.text) ?? [];
      expect(error).toContain(says);
      for (const [name, kept] of Object.entries(typed).filter(([name]) => name !== 'name'))
        expect(answer.text, name).toContain(`value="${kept}"`);
      expect(answer.text).toContain('a &lt;b>name&lt;/b>');
      expect(sheets(app)).toEqual([]);
    },
  );

  it('is drawn while it is typed, or says what is wrong', async () => {
    const app = await testApp();
    const at = (changes: object) =>
      app.owner.get(`/label-sheets/preview?${new URLSearchParams({ ...sheet, ...changes })}`, {
        'HX-Request': 'true',
      });
    expect((await at({})).text).toContain('<svg class="label-picture"');
    expect((await at({ labelWidth: '70' })).text).toContain('need 222.5\u00a0mm');
    expect((await at({ labelWidth: '' })).text).toContain('each 63.3 by 33.9\u00a0mm');
    expect(sheets(app)).toEqual([]);
  });

  it('has a name of its own', async () => {
    const app = await withSheet();
    const again = await app.owner.post('/label-sheets', { ...sheet, name: '24 TO A SHEET' });
    expect(again.status).toBe(422);
    expect(again.text).toContain('There is a sheet with this name already.');
  });
});

function stock({ db }: TestApp) {
  const room = makePlace(db, { name: 'Cellar', shelfOrder: 'a' });
  const shelf = makePlace(db, { name: 'Low', fullName: 'Cellar / Low', shelfOrder: 'aa', parentId: room.id });
  const kind = makeSpecies(db, { scientificName: 'Exemplum cellare' });
  const low = makeCulture(db, { code: 'LOW-1', placeId: shelf.id, speciesId: kind.id });
  const other = makeCulture(db, { code: 'OTH-1' });
  const gone = makeCulture(db, { code: 'OLD-1', status: 'retired' });
  return { room, kind, low, other, gone };
}

describe('choosing labels', () => {
  it('offers what has none yet, by place, by species, or one culture', async () => {
    const app = await testApp();
    const { room, kind, low, gone } = stock(app);
    const listed = async (query: string) => {
      const { text } = await app.helper.get(`/labels${query}`);
      return ['LOW-1', 'OTH-1', 'OLD-1'].filter((code) => text.includes(`>${code}<`));
    };
    expect(await listed('')).toEqual(['LOW-1', 'OTH-1']);
    expect(await listed(`?place=${room.id}`)).toEqual(['LOW-1']);
    expect(await listed(`?species=${kind.id}`)).toEqual(['LOW-1']);
    expect(await listed(`?only=${gone.id}`)).toEqual(['OLD-1']);
    await app.helper.post('/labels/printed', { first: 1, cultures: String(low.id) });
    expect(await listed('')).toEqual(['OTH-1']);
    expect(await listed('?which=all')).toEqual(['LOW-1', 'OTH-1']);
  });

  it('brings a wrong form back with its ticks', async () => {
    const app = await withSheet();
    const { low, other } = stock(app);
    const none = await app.helper.post('/labels', { which: 'new', sheet: 1, first: 1 });
    expect(none.status).toBe(422);
    expect(none.text).toContain('Tick the cultures that want a label.');
    expect(none.text).not.toMatch(/name="cultures" value="\d+" checked/);
    const late = await app.helper.post('/labels', { which: 'new', sheet: 1, first: 25, cultures: other.id });
    expect(late.status).toBe(422);
    expect(late.text).toContain('This sheet has 24 labels.');
    expect(late.text).toMatch(new RegExp(`value="${other.id}" checked`));
    expect(late.text).not.toMatch(new RegExp(`value="${low.id}" checked`));
    expect((await app.helper.post('/labels', { sheet: 9, first: 1, cultures: low.id })).text).toContain(
      'This sheet is no longer there.',
    );
  });
});

describe('printing labels', () => {
  it('shows the sheet, prints it with codes that lead here, and keeps what was printed', async () => {
    const app = await withSheet({ BASE_URL: 'https://bench.example.org' });
    const { low, other } = stock(app);
    const asked = await app.helper.post('/labels', {
      which: 'new',
      sheet: 1,
      first: 23,
      cultures: [low.id, other.id],
    });
    const at = String(asked.headers.location);
    expect(at).toBe(`/labels/sheet?sheet=1&first=23&cultures=${low.id}%2C${other.id}`);
    const shown = await app.helper.get(at);
    expect(shown.text).toContain('2 labels on one sheet');
    const file = await app.helper.bytes(at.replace('/sheet?', '/sheet.pdf?'));
    expect([file.status, file.type]).toEqual([200, 'application/pdf']);
    const read = await readPdf(file.body);
    const right = { ...read.pages[0]!, blackAreas: read.pages[0]!.blackAreas.filter(({ x }) => x > 380) };
    expect(decodeQr(right)).toBe('https://bench.example.org/c/OTH-1');
    expect(app.db.select().from(labelPrints).all()).toEqual([]);
    const fields = { sheet: 1, first: 23, cultures: `${low.id},${other.id}` };
    for (let sent = 0; sent < 2; sent += 1)
      await app.helper.post('/labels/printed', fields, { formKey: 'the-same-form-key-02' });
    expect(app.db.select().from(labelPrints).all()).toMatchObject([
      { code: 'LOW-1', printedBy: cast.helper.id },
      { code: 'OTH-1' },
    ]);
    expect(sheets(app)[0]?.nextLabel).toBe(1);
  });

  it('prints on the paper of the business, and refuses what cannot be', async () => {
    const app = await testApp();
    const { low } = stock(app);
    app.sqlite.exec("UPDATE business SET paper = 'Letter'");
    const { body } = await app.helper.bytes(`/labels/sheet.pdf?first=1&cultures=${low.id}`);
    expect((await readPdf(body)).pages[0]?.widthPt).toBeCloseTo(612, 0);
    for (const query of [
      '',
      '?first=0&cultures=1',
      '?first=1&cultures=',
      '?first=1&cultures=1;2',
      '?first=1',
    ])
      expect((await app.helper.get(`/labels/sheet.pdf${query}`)).status, query).toBe(400);
    expect((await app.helper.get('/labels/sheet.pdf?first=1&cultures=999')).status).toBe(404);
    expect((await app.helper.get(`/labels/sheet?sheet=7&first=1&cultures=${low.id}`)).status).toBe(404);
    const many = Array.from({ length: 501 }, (_, i) => i + 1).join(',');
    expect((await app.helper.get(`/labels/sheet.pdf?first=1&cultures=${many}`)).status).toBe(400);
  });

  it('warns of codes that phones may not read and of an address that only this machine knows', async () => {
    const app = await testApp();
    expect((await app.owner.get('/labels')).text).toContain('which a phone cannot open');
    await app.owner.post('/label-sheets', { ...sheet, labelWidth: '30', labelHeight: '21', rows: '13' });
    const culture = makeCulture(app.db, { code: '\u{10480}'.repeat(12) });
    const page = await app.helper.get(`/labels/sheet?sheet=1&first=1&cultures=${culture.id}`);
    expect(page.text).toContain('Phones may not read the code of');
    expect(page.text).toContain('No print font has these characters');
  });
});

describe('a scanned label', () => {
  it('opens the check, and brings one back to it after signing in', async () => {
    const app = await testApp();
    const { low, gone } = stock(app);
    expect((await app.helper.get('/c/low-1')).headers.location).toBe('/cultures/LOW-1/check');
    expect((await app.helper.get(`/c/${gone.code}`)).headers.location).toBe('/cultures/OLD-1');
    expect((await app.helper.get('/c/NO-1')).status).toBe(404);
    const sent = await app.outsider.get(`/c/${low.code}`);
    expect(sent.headers.location).toBe('/sign-in?next=%2Fc%2FLOW-1');
    await givePassword(app, cast.helper.id);
    const signedIn = await app.outsider.post('/sign-in', {
      signInName: 'helper',
      password: goodPassword,
      next: '/c/LOW-1',
    });
    expect(signedIn.headers.location).toBe('/c/LOW-1');
    expect((await app.outsider.get('/c/LOW-1')).headers.location).toBe('/cultures/LOW-1/check');
  });

  it('still opens a culture whose code was changed since', async () => {
    const app = await testApp();
    const { low } = stock(app);
    await app.helper.post('/labels/printed', { first: 1, cultures: String(low.id) });
    app.sqlite.prepare("UPDATE cultures SET code = 'LOW/9 ä' WHERE id = ?").run(low.id);
    expect((await app.helper.get('/c/LOW-1')).headers.location).toBe('/cultures/LOW%2F9%20%C3%A4/check');
    expect((await app.helper.get('/labels')).text).toContain('>LOW/9 ä<');
    makeCulture(app.db, { code: 'LOW-1' });
    expect((await app.helper.get('/c/LOW-1')).headers.location).toBe('/cultures/LOW-1/check');
  });
});
