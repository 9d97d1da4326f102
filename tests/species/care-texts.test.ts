import { eq, sql } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import {
  careVersions,
  careVersionTexts,
  customers,
  orderCareSheets,
  species,
  speciesCare,
} from '../../server/schema/tables.ts';
import {
  careIn,
  insertVersion,
  keepEnglish,
  newestVersion,
  noWords,
} from '../../server/species/queries-care.ts';
import { readTerms, termsOf } from '../../shared/species/care-form.ts';
import { termOf } from '../../views/documents/care-sheet-data.ts';
import { readPdf } from '../documents/read-pdf.ts';
import { care } from '../documents/sample-care.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { describedSpecies } from '../support/described-species.ts';
import { makeCustomer, makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

/** What the first form of the main part would send as it stands. */
function fieldsOf(html: string): Record<string, string> {
  const found: Record<string, string> = {};
  for (const [, name = '', value = ''] of html.matchAll(/<input[^>]*?name="([^"]+)"[^>]*?value="([^"]*)"/g))
    found[name] ??= value;
  for (const [, name = '', text = ''] of html.matchAll(
    /<textarea[^>]*?name="([^"]+)"[^>]*>([^<]*)<\/textarea>/g,
  ))
    found[name] = text;
  for (const name of ['_csrf', 'formKey']) delete found[name];
  return found;
}

/** What the database says against a statement; empty when it lets it through. */
function refusalOf(run: () => unknown): string {
  try {
    run();
    return '';
  } catch (error) {
    return String((error as Error).cause);
  }
}

const pathOf = (id: number) => `/species/${id}/care`;

async function german() {
  const app = await testApp();
  const kind = describedSpecies(app.db);
  const open = async () => fieldsOf((await app.owner.get(`${pathOf(kind.id)}?language=de`)).text);
  const save = async (fields: Record<string, string>) =>
    app.owner.post(pathOf(kind.id), { ...(await open()), ...fields });
  return { app, kind, open, save };
}

const versionsOf = ({ db }: TestApp, id: number) =>
  db.select().from(careVersions).where(eq(careVersions.speciesId, id)).orderBy(careVersions.id).all();

describe('care texts in other languages', () => {
  it('say that there is none yet, beside the English ones', async () => {
    const { app, kind } = await german();
    const page = (await app.owner.get(`${pathOf(kind.id)}?language=de`)).text;
    for (const words of [
      'There is no German text yet',
      'What to know about food.',
      'Shoe box',
      'leaf mould',
      'Nothing was saved in German yet',
    ])
      expect(page, words).toContain(words);
    expect((await app.owner.get(`/species/${kind.id}`)).text).toContain(`href="${pathOf(kind.id)}"`);
  });

  it('are saved as versions, say who wrote them, and stand on the sheet with what is missing in English', async () => {
    const { app, kind, save } = await german();
    expect(
      (
        await save({
          commonName: 'Kellerassel',
          'care-food': 'Laub muss immer da sein.',
          words0: 'Schuhkarton',
        })
      ).status,
    ).toBe(303);
    const page = (await app.owner.get(`${pathOf(kind.id)}?language=de`)).text;
    expect(page).toContain('Laub muss immer da sein.');
    expect(page).toContain('Olive Owner');
    expect(page).not.toContain('There is no German text yet');
    const read = await readPdf(
      (await app.helper.bytes(`/species/${kind.id}/care-sheet.pdf?language=de`)).body,
    );
    for (const words of [
      'Kellerassel',
      'Laub muss immer da sein.',
      'Schuhkarton',
      'What to know about water.',
      'Futter',
    ])
      expect(read.words, words).toContain(words);
    expect(read.words).not.toContain('What to know about food.');
    expect(newestVersion(app.db, kind.id, 'de')).toMatchObject({
      by: 'Olive Owner',
      terms: { 'Shoe box': 'Schuhkarton' },
    });
  });

  it('write nothing when nothing was changed, and refuse what is too long without losing it', async () => {
    const { app, kind, save } = await german();
    expect((await save({})).headers.location).toContain('/care?language=de');
    expect(versionsOf(app, kind.id).filter(({ language }) => language === 'de')).toEqual([]);
    const long = await save({ 'care-food': 'x'.repeat(4001), words0: 'Schuhkarton' });
    expect(long.status).toBe(422);
    expect(long.text).toContain('4000 characters at most');
    expect(long.text).toContain('Schuhkarton');
  });

  it('notice that somebody saved meanwhile', async () => {
    const { app, kind, open, save } = await german();
    const early = await open();
    await save({ 'care-food': 'Laub.' });
    const late = await app.owner.post(pathOf(kind.id), { ...early, 'care-food': 'Gemüse.' });
    expect(late.status).toBe(409);
    for (const words of ['Olive Owner', 'Laub.', 'Gemüse.']) expect(late.text).toContain(words);
    expect(newestVersion(app.db, kind.id, 'de')?.text.food).toBe('Laub.');
  });

  it('are for the owner', async () => {
    const { app, kind } = await german();
    for (const path of [pathOf(kind.id), `${pathOf(kind.id)}/1/sheet.pdf`])
      expect((await app.helper.get(path)).status, path).toBe(403);
    expect((await app.helper.post(pathOf(kind.id), {})).status).toBe(403);
    expect((await app.helper.post(`${pathOf(kind.id)}/again`, { version: 1 })).status).toBe(403);
  });
});

describe('versions', () => {
  it('can be looked at, taken up again, and are never lost', async () => {
    const { app, kind, save } = await german();
    await save({ 'care-food': 'Erster Text.' });
    await save({ 'care-food': 'Zweiter Text.' });
    const [first] = versionsOf(app, kind.id).filter(({ language }) => language === 'de');
    const sheet = await readPdf((await app.owner.bytes(`${pathOf(kind.id)}/${first?.id}/sheet.pdf`)).body);
    expect(sheet.words).toContain('Erster Text.');
    expect((await app.owner.post(`${pathOf(kind.id)}/again`, { version: first?.id ?? 0 })).status).toBe(303);
    expect(newestVersion(app.db, kind.id, 'de')).toMatchObject({
      againOf: first?.id,
      text: { food: 'Erster Text.' },
    });
    expect(versionsOf(app, kind.id).filter(({ language }) => language === 'de')).toHaveLength(3);
    const other = makeSpecies(app.db);
    expect((await app.owner.post(`${pathOf(other.id)}/again`, { version: first?.id ?? 0 })).status).toBe(404);
    expect((await app.owner.get(`${pathOf(other.id)}/${first?.id}/sheet.pdf`)).status).toBe(404);
  });

  it('of the English text come from this page and from wherever else it is written', async () => {
    const { app, kind } = await german();
    keepEnglish(app.db, kind.id, { personId: null, at: 1 });
    app.db
      .update(speciesCare)
      .set({ text: 'Changed elsewhere.' })
      .where(eq(speciesCare.heading, 'food'))
      .run();
    const fields = fieldsOf((await app.owner.get(pathOf(kind.id))).text);
    expect(fields['care-food']).toBe('Changed elsewhere.');
    await app.owner.post(pathOf(kind.id), {
      ...fields,
      'care-food': 'Changed here.',
      cautions: 'They bite.',
    });
    const texts = app.db.select().from(careVersionTexts).where(eq(careVersionTexts.heading, 'food')).all();
    expect(texts.map(({ text }) => text)).toEqual([
      'What to know about food.',
      'Changed elsewhere.',
      'Changed here.',
    ]);
    expect(app.db.select().from(species).where(eq(species.id, kind.id)).get()?.cautions).toBe('They bite.');
    const [first] = versionsOf(app, kind.id);
    await app.owner.post(`${pathOf(kind.id)}/again`, { version: first?.id ?? 0 });
    expect((await app.owner.get(`/species/${kind.id}`)).text).toContain('What to know about food.');
  });

  it('cannot be changed or deleted in the database', async () => {
    const { app, save } = await german();
    await save({ 'care-food': 'Bleibt.', words0: 'Schuhkarton' });
    for (const statement of [
      sql`UPDATE care_versions SET cautions = 'x'`,
      sql`DELETE FROM care_versions`,
      sql`UPDATE care_version_texts SET text = 'x'`,
      sql`DELETE FROM care_version_texts`,
      sql`UPDATE care_version_terms SET words = 'x'`,
      sql`DELETE FROM care_version_terms`,
    ])
      expect(refusalOf(() => app.db.run(statement))).toContain('versions of care texts are kept');
    expect(
      app.db
        .select()
        .from(careVersionTexts)
        .all()
        .some(({ text }) => text === 'Bleibt.'),
    ).toBe(true);
  });
});

it('goes with its species, when an import is undone', async () => {
  const { app, save } = await german();
  await save({ 'care-food': 'Laub.', words0: 'Schuhkarton' });
  const other = makeSpecies(app.db);
  insertVersion(
    app.db,
    other.id,
    'es',
    { ...noWords(), text: { ...noWords().text, food: 'Hojas.' }, terms: { Soil: 'tierra' } },
    { personId: null, at: 1 },
  );
  app.db.delete(species).where(eq(species.id, other.id)).run();
  expect(versionsOf(app, other.id)).toEqual([]);
  expect(
    app.db
      .select()
      .from(careVersionTexts)
      .all()
      .map(({ text }) => text),
  ).toContain('Laub.');
});

describe('the care sheets of a packed box', () => {
  async function packedOrder() {
    const { app, kind, save } = await german();
    await save({ commonName: 'Beispielassel', 'care-food': 'Wie gepackt.' });
    const culture = makeCounted(app.db, kind.id, 120, { code: 'AA-1' });
    const customerId = makeCustomer(app.db, { language: 'de' }).id;
    const order = makeOrder(app.db, { customerId, dispatchOn: '2026-11-30' });
    const line = makeLine(app.db, order.id, kind.id);
    await app.owner.post('/orders/1/reserve', { [`groups-${line.id}-${culture.id}`]: 1 });
    await app.owner.post('/orders/1/confirm');
    const pack = () => app.helper.post('/orders/1/pack', { [`tick-1-${culture.id}`]: 'yes' });
    const print = async (query = '') =>
      readPdf((await app.helper.bytes(`/orders/1/care-sheets.pdf${query}`)).body);
    return { app, kind, save, pack, print, customerId };
  }

  it('are printed again as they were, whatever is written, moved or called later', async () => {
    const { app, kind, save, pack, print, customerId } = await packedOrder();
    expect((await pack()).status).toBe(303);
    const before = await print();
    await save({ 'care-food': 'Neuer Text.' });
    app.db
      .update(species)
      .set({ homeEnclosureId: null, idealHighC: 21 })
      .where(eq(species.id, kind.id))
      .run();
    app.db
      .update(customers)
      .set({ language: 'es', paper: 'Letter', units: 'us' })
      .where(eq(customers.id, customerId))
      .run();
    const again = await print();
    expect(again.words).toBe(before.words);
    expect(again.words).toContain('Wie gepackt.');
    expect(again.pages[0]?.widthPt).toBe(before.pages[0]?.widthPt);
    expect((await app.owner.get('/orders/1/papers')).text).toContain('as they lay in the box');
    app.db.update(species).set({ homeEnclosureId: 1 }).where(eq(species.id, kind.id)).run();
    const now = await print('?as=now');
    expect(now.words).toContain('Cuando llegue el paquete');
    expect(now.words).not.toContain('Wie gepackt.');
  });

  it('name the version they were printed with, and bear the customer’s name of today', async () => {
    const { app, kind, pack, print, customerId } = await packedOrder();
    await pack();
    const kept = app.db.select().from(orderCareSheets).all();
    expect(kept).toMatchObject([{ language: 'de', versionId: newestVersion(app.db, kind.id, 'de')?.id }]);
    expect(kept[0]?.sheet).not.toContain('Carla');
    app.db.update(customers).set({ name: 'Somebody Else' }).where(eq(customers.id, customerId)).run();
    expect((await print()).words).toContain('Somebody Else');
  });

  it('are forgotten when the box was not packed after all', async () => {
    const { app, save, pack, print } = await packedOrder();
    await pack();
    expect((await app.owner.post('/orders/1/unpack')).status).toBe(303);
    expect(app.db.select().from(orderCareSheets).all()).toEqual([]);
    await save({ 'care-food': 'Neuer Text.' });
    expect((await print()).words).toContain('Neuer Text.');
    await pack();
    expect((await print()).words).toContain('Neuer Text.');
  });

  it('warn before printing of what stands in English', async () => {
    const { app } = await packedOrder();
    const page = (await app.owner.get('/orders/1/papers')).text;
    expect(page).toContain('has no German text yet for: Enclosure, Substrate, Water');
    expect(page).toContain('Cautions, Words of the drawing. It stands in English.');
    expect(page).toContain('The care sheets are in German');
  });
});

describe('careIn', () => {
  it('fills up with English and says what it filled', async () => {
    const { app, kind, save } = await german();
    await save({ 'care-food': 'Laub.', cautions: 'Beißt.' });
    const stored = app.db.select().from(species).where(eq(species.id, kind.id)).get();
    const found = careIn(app.db, stored!, 'de');
    expect(found.text).toMatchObject({ food: 'Laub.', water: 'What to know about water.' });
    expect(found.inEnglish).toContain('water');
    expect(found.inEnglish).not.toContain('food');
    expect(found.inEnglish).not.toContain('cautions');
    expect(careIn(app.db, stored!, 'en').inEnglish).toEqual([]);
  });
});

describe('the words of the drawing', () => {
  const layer = (name: string, ...materials: string[]) => ({
    name,
    depthMm: 10,
    parts: materials.map((material) => ({ material, parts: 1, settling: 1 })),
  });
  it('are asked for once each', () => {
    const layers = [layer('Soil', 'peat', 'sand'), layer('Leaves', 'oak leaves', 'Sand')];
    expect(termsOf({ name: 'Box', ventilation: '' }, layers)).toEqual([
      'Box',
      'Sand',
      'oak leaves',
      'Leaves',
      'peat',
      'Soil',
    ]);
  });
  it('are found with and without a capital', () => {
    const sheet = { ...care, language: 'de' as const, terms: { 'oak leaves': 'trockenes Laub' } };
    expect(termOf(sheet, 'Oak leaves')).toEqual({ text: 'Trockenes Laub' });
    expect(termOf(sheet, 'Soil')).toEqual({ text: 'Soil', lang: 'en' });
  });
  it('are read in pairs until a pair is missing', () => {
    expect(readTerms({ english0: 'Soil', words0: ' Erde ', english1: 'Sand', words1: '' })).toEqual({
      Soil: 'Erde',
    });
    expect(readTerms({ english0: 'Soil', words0: ['a', 'b'] })).toEqual({});
  });
});
