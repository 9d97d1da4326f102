import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { readEstimate } from '../../server/counts/queries-estimate.ts';
import { insertLine } from '../../server/lines/queries.ts';
import { kinshipOf } from '../../server/lines/queries-kinship.ts';
import { cultureEstimates, cultures, diary, formKeys } from '../../server/schema/tables.ts';
import { lineageInput } from '../../shared/lines/form.ts';
import { lineage } from '../../shared/lines/lineage.ts';
import { isShrinking } from '../../shared/lines/page-shrinking.ts';
import { makeCounted } from '../support/counted.ts';
import { behavesLikeAFormPage } from '../support/form-page.ts';
import { rebuiltOf, storedOf } from '../support/rebuild.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';
import { bench, smallStory } from './pages-story.ts';

const path = (code: string) => `/cultures/${code}/mixing`;

/** A culture and another of its species that can spare animals: numbers 1 and 2. */
function pair({ db }: Pick<TestApp, 'db'>) {
  const species = makeSpecies(db);
  const into = makeCounted(db, 60, { speciesId: species.id });
  const from = makeCounted(db, 220, { speciesId: species.id });
  return { ...into, into, from, speciesId: species.id };
}

const tables = ({ db }: TestApp) => ({
  diary: db.select().from(diary).all(),
  estimates: db.select().from(cultureEstimates).all(),
  keys: db.select().from(formKeys).all(),
});

describe('the page of mixing', () => {
  behavesLikeAFormPage({
    path,
    make: pair,
    good: { fromId: '2', animals: '6', note: 'new blood' },
    bad: { fromId: '2', animals: '', note: '<script>alert(1)</script>' },
    says: 'At least one animal.',
    keeps: ['&lt;script>alert(1)&lt;/script>', '<option value="2" selected'],
  });
});

describe('mixing', () => {
  it('takes animals out there and puts them in here, and brings both estimates along', async () => {
    const app = await testApp();
    const { into, from } = pair(app);
    const was = [into, from].map(({ id }) => readEstimate(app.db, id)!.median!);
    const answer = await app.helper.post(path(into.code), {
      fromId: from.id,
      animals: '8',
      adults: '6',
      note: 'fair',
    });
    expect([answer.status, answer.headers.location]).toEqual([303, `/cultures/${into.code}`]);
    const [out, put] = tables(app).diary.slice(-2);
    expect(out).toMatchObject({
      cultureId: from.id,
      kind: 'harvest',
      animals: 8,
      adults: 6,
      otherCultureId: into.id,
    });
    expect(put).toMatchObject({
      cultureId: into.id,
      kind: 'addition',
      animals: 8,
      adults: 6,
      otherCultureId: from.id,
    });
    expect([out?.note, put?.note, out?.madeBy, put?.madeBy]).toEqual([
      'fair',
      'fair',
      'person-helper',
      'person-helper',
    ]);
    const now = [into, from].map(({ id }) => readEstimate(app.db, id)!.median!);
    expect(now[0]! - was[0]!).toBeCloseTo(8, 0);
    expect(was[1]! - now[1]!).toBeCloseTo(8, 0);
    for (const { id } of [into, from]) expect(rebuiltOf(app.db, id)).toEqual(storedOf(app.db, id));
    const page = (await app.helper.get(`/cultures/${into.code}`)).text;
    expect(page).toContain(
      `8 animals of ${from.code} were put into ${into.code}, in both diaries. It keeps `,
    );
    expect((await app.helper.get(`/lines/graph?species=${into.speciesId}`)).text).toContain(
      'graph-link-mixing',
    );
  });

  it('is undone in both diaries at once', async () => {
    const app = await testApp();
    const { into, from } = pair(app);
    const before = storedOf(app.db, from.id).points;
    await app.helper.post(path(into.code), { fromId: from.id, animals: '8' });
    const page = (await app.helper.get(`/cultures/${into.code}`)).text;
    const undo = /action="(\/cultures\/[^"]+\/withdraw)"/.exec(page)?.[1] ?? '';
    expect((await app.helper.post(undo)).status).toBe(303);
    expect(storedOf(app.db, from.id).points).toEqual(before);
    const standing = app.sqlite.prepare("SELECT kind FROM standing_diary WHERE kind <> 'count'").all();
    expect(standing).toEqual([]);
  });

  it.each([
    ['the second diary', "BEFORE INSERT ON diary WHEN NEW.kind = 'addition'"],
    ['the last estimate', 'BEFORE UPDATE ON culture_estimates WHEN NEW.culture_id = 1'],
    ['the form key', 'BEFORE INSERT ON form_keys'],
  ])('leaves nothing behind when %s cannot be written', async (_what, when) => {
    const app = await testApp();
    const { into, from } = pair(app);
    const before = tables(app);
    app.sqlite.exec(`CREATE TRIGGER broken ${when} BEGIN SELECT RAISE(ABORT, 'the disk is gone'); END`);
    expect((await app.helper.post(path(into.code), { fromId: from.id, animals: '8' })).status).toBe(500);
    app.sqlite.exec('DROP TRIGGER broken');
    expect(tables(app)).toEqual(before);
  });

  it('acts once for two people with the same form, one after the other', async () => {
    const app = await testApp();
    const { into, from } = pair(app);
    const send = () =>
      app.helper.post(path(into.code), { fromId: from.id, animals: '8' }, { formKey: 'one-and-the-same-1' });
    const [first, second] = await Promise.all([send(), send()]);
    expect([first.status, second.status]).toEqual([303, 303]);
    expect(tables(app).diary.filter(({ kind }) => kind === 'addition')).toHaveLength(1);
  });

  it('objects when the partner would fall below its reserve: only the owner may, and says why', async () => {
    const app = await testApp();
    const { into, from } = pair(app);
    const many = { fromId: from.id, animals: '150', note: 'all of it' };
    const asked = await app.helper.post(path(into.code), many);
    expect(asked.status).toBe(422);
    expect(asked.text).toMatch(new RegExp(`\\d+ animals must stay in ${from.code}`));
    expect(asked.text).toContain('Only the owner can decide this.');
    const despite = { ...many, despite: 'reserve', reason: 'that room is closed' };
    expect((await app.helper.post(path(into.code), despite)).status).toBe(422);
    expect(tables(app).diary).toHaveLength(2);
    expect((await app.owner.post(path(into.code), despite)).status).toBe(303);
    expect(tables(app).diary.at(-2)?.note).toContain(
      'Although what stays may fall below the reserve: that room is closed',
    );
  });

  it('refuses more than can be there, sources that are none, itself, and another species', async () => {
    const app = await testApp();
    const { into, from } = pair(app);
    const stranger = makeCounted(app.db, 200);
    const before = tables(app);
    for (const [fields, says] of [
      [{ fromId: from.id, animals: '9000' }, 'animals can have been there that day'],
      [{ fromId: '999', animals: '5' }, 'Choose a culture of the list.'],
      [{ fromId: into.id, animals: '5' }, 'Choose a culture of the list.'],
      [{ fromId: stranger.id, animals: '5' }, 'Choose a culture of the list.'],
      [{ fromId: '', animals: '5' }, 'Choose a culture of the list.'],
      [{ fromId: from.id, animals: 'some' }, 'Write a whole number'],
      [{ fromId: from.id, animals: '3', adults: '4' }, 'Adults and juveniles together are 4 already.'],
    ] as const) {
      const answer = await app.owner.post(path(into.code), fields);
      expect([answer.status, answer.text.includes(says)], says).toEqual([422, true]);
    }
    expect(tables(app)).toEqual(before);
  });

  it('is over for a retired culture', async () => {
    const app = await testApp();
    const { into, from } = pair(app);
    await app.owner.post(`/cultures/${into.code}/write`, { kind: 'retirement', why: 'died-out' });
    expect((await app.owner.get(path(into.code))).status).toBe(409);
    expect((await app.owner.post(path(into.code), { fromId: from.id, animals: '5' })).status).toBe(409);
  });
});

/** The rows of the table of partners: code, kinship, what would be kept, how many animals. */
function rowsIn(html: string) {
  const table = /<caption>Partners for[\s\S]*?<\/table>/.exec(html)?.[0] ?? '';
  return [...table.matchAll(/<tr role="row"[^>]*>(?=<th scope="row")[\s\S]*?<\/tr>/g)].map(([row]) => {
    const cell = (label: string) =>
      (new RegExp(`data-label="${label}[^"]*">([\\s\\S]*?)</td>`).exec(row)?.[1] ?? '').replace(
        /<[^>]*>/g,
        '',
      );
    return {
      code: />([A-Z]+-\d+)<\/a>/.exec(row)?.[1],
      kinship: cell('Kinship'),
      after: cell('[A-Z0-9-]+ would keep'),
      animals: cell('With so many'),
      spare: cell('Can spare now'),
    };
  });
}

describe('what is proposed', () => {
  it('is what the formula says, best first, with what each can spare', async () => {
    const app = await testApp();
    const { species, child } = smallStory(app.db);
    const rows = rowsIn((await app.helper.get(path(child.code))).text);
    const answer = lineage(lineageInput.parse(kinshipOf(app.db, species.id, testToday)!.lineage));
    const place = (code: string) => answer.codes.indexOf(code);
    const f = (a: string, b: string) => answer.kinship[place(a)]![place(b)]!;
    const number = (code: string) =>
      app.db
        .select({ median: cultureEstimates.median })
        .from(cultures)
        .innerJoin(cultureEstimates, eq(cultureEstimates.cultureId, cultures.id))
        .where(eq(cultures.code, code))
        .get()!.median!;
    expect(rows[0]?.code).toBe('FO-2');
    for (const row of rows) {
      const code = row.code!;
      const a = Number(row.animals);
      const w = a / (number('SP-1') + a);
      // (1-w)^2 f_cc + 2 w (1-w) f_cs + w^2 f_ss: two genes drawn from the mixture (Malécot 1948)
      const lost =
        (1 - w) ** 2 * f('SP-1', 'SP-1') + 2 * w * (1 - w) * f('SP-1', code) + w ** 2 * f(code, code);
      expect(row.after).toBe(`${Math.round((1 - lost) * 100)}\u00a0%`);
      expect(row.kinship).toBe(f('SP-1', code).toFixed(2));
      expect(row.spare).toBe('28 animals');
    }
    const kept = rows.map(({ after }) => Number.parseInt(after, 10));
    expect(kept).toEqual([...kept].sort((a, b) => b - a));
  });

  it('is never what is marked never to be mixed, in quarantine, retired or died out', async () => {
    const app = await testApp();
    const b = bench(app.db, { generationDays: 60 });
    const line = (name: string, keptPure: 'no' | 'line' = 'no') =>
      insertLine(app.db, { speciesId: b.species.id, name, locality: '', note: '', keptPure });
    const [plain, pure] = [line('dusk'), line('dawn', 'line')];
    const into = b.found('IN-1', '2026-01-10', 8, { lineId: plain });
    for (const [code, values] of [
      ['OK-1', { lineId: plain }],
      ['PU-1', { lineId: pure }],
      ['QU-1', { status: 'quarantine' }],
      ['RE-1', { status: 'retired' }],
    ] as const)
      b.found(code, '2026-02-01', 30, values);
    b.count(b.found('NO-1', '2026-02-01', 30), '2026-03-01', 0.2);
    const { text } = await app.helper.get(path(into.code));
    expect(rowsIn(text).map(({ code }) => code)).toEqual(['OK-1']);
    expect(text).toContain('PU-1: line dawn is kept pure.');
    expect(text).toContain('QU-1: it is in quarantine.');
    const pureId = app.db.select().from(cultures).where(eq(cultures.code, 'PU-1')).get()!.id;
    expect(text).not.toContain(`<option value="${pureId}"`);
    const sent = await app.owner.post(path(into.code), { fromId: pureId, animals: '3' });
    expect(sent.status).toBe(422);
    expect(sent.text).toContain('PU-1 and IN-1 must not be mixed: line dawn is kept pure.');
  });

  it('stands in the form beforehand: the best partner that can spare enough, or the chosen one', async () => {
    const app = await testApp();
    const { child, second, other } = smallStory(app.db);
    const best = (await app.helper.get(path(child.code))).text;
    expect(best).toMatch(new RegExp(`<option value="${second.id}" selected`));
    const chosen = (await app.helper.get(`${path(child.code)}?from=SP-2`)).text;
    expect(chosen).toMatch(new RegExp(`<option value="${other.id}" selected`));
    expect((await app.helper.get(`${path(child.code)}?from=%3Cb%3E`)).status).toBe(200);
  });

  it('is nothing for females alone', async () => {
    const app = await testApp();
    const { child } = smallStory(app.db, { femaleShare: 1 });
    const { text } = await app.helper.get(path(child.code));
    expect(text).toContain('each line counts as one clone');
    expect(text).not.toContain('Partners for');
  });

  it('is said of a culture that has died out', async () => {
    const app = await testApp();
    const b = bench(app.db);
    b.found('OK-1', '2026-01-10');
    const gone = b.found('NO-1', '2026-02-01');
    b.count(gone, '2026-03-01', 0.2);
    expect((await app.helper.get(path('NO-1'))).text).toContain('no animals are left in NO-1');
  });
});

describe('the page of a culture', () => {
  it('shows founders, inbreeding and kin as the calculation has them', async () => {
    const app = await testApp();
    const { species, other } = smallStory(app.db);
    const answer = lineage(lineageInput.parse(kinshipOf(app.db, species.id, testToday)!.lineage));
    const own = answer.cultures.find(({ code }) => code === 'SP-2')!;
    const { text } = await app.helper.get(`/cultures/${other.code}`);
    const section = text.slice(text.indexOf('kin-title'), text.indexOf('Draw its splits'));
    const plain = section.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ');
    const percent = (share: number) => `${Math.round(share * 100)} %`;
    for (const [code, share] of Object.entries(own.founderShares))
      expect(plain).toContain(`${code} ${percent(share)}`);
    expect(plain).toContain(`Inbreeding ${own.inbreeding.toFixed(2)}`);
    expect(plain).toContain(`Heterozygosity kept ${percent(own.heterozygosityKept)}`);
    const row = answer.kinship[answer.codes.indexOf('SP-2')]!;
    expect(plain).toContain(`FO-2 ${row[answer.codes.indexOf('FO-2')]!.toFixed(2)}`);
  });

  it('leads to partners when it is inbred, and quietly otherwise', async () => {
    const app = await testApp();
    const b = bench(app.db);
    const inbred = b.found('IN-1', '2026-01-10', 2);
    const well = b.found('OK-1', '2026-01-10', 60);
    const asks = 'less than a single pair would leave';
    expect((await app.helper.get(`/cultures/${inbred.code}`)).text).toContain(asks);
    const other = (await app.helper.get(`/cultures/${well.code}`)).text;
    expect(other).not.toContain(asks);
    expect(other).toContain(path(well.code));
  });

  it('leads there when its number is expected to fall', async () => {
    const app = await testApp();
    const well = bench(app.db).found('OK-1', '2026-01-10', 60);
    app.db
      .update(cultureEstimates)
      .set({ forecast: JSON.stringify([{ date: '2026-12-02', median: 40, lower: 30, upper: 50 }]) })
      .run();
    expect((await app.helper.get(`/cultures/${well.code}`)).text).toContain(
      'expected to fall in the weeks ahead',
    );
    expect(isShrinking(100, [{ median: 98 }, { median: 90 }])).toBe(true);
    expect(isShrinking(100, [{ median: 96 }])).toBe(false);
    expect(isShrinking(null, [{ median: 96 }])).toBe(false);
    expect(isShrinking(100, [])).toBe(false);
  });

  it('says of a retired culture that left nothing what there is to say', async () => {
    const app = await testApp();
    const { gone } = smallStory(app.db);
    const { text } = await app.helper.get(`/cultures/${gone.code}`);
    expect(text).toContain('None of its animals went into a culture that is kept.');
    expect(text).not.toContain(path(gone.code));
  });
});
