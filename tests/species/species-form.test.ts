import { asc, eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { readEstimate } from '../../server/counts/queries-estimate.ts';
import { audit, enclosures, species } from '../../server/schema/tables.ts';
import { readBusiness, saveBusiness } from '../../server/settings/queries.ts';
import { readCare, readLayers, readSpecies } from '../../server/species/queries.ts';
import { makeCulture, makeEnclosure, makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

type Tested = Awaited<ReturnType<typeof testApp>>;
type Fields = Record<string, string>;

const unescaped = (text: string) =>
  text
    .replace(/&quot;/g, '"')
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&amp;/g, '&');

/** The fields of the species form as a browser would send them back. */
function fieldsOf(html: string): Fields {
  const form = /<form[^>]*id="species-form"[\s\S]*?<\/form>/.exec(html)?.[0] ?? '';
  const fields: Fields = {};
  const attribute = (tag: string, name: string) => new RegExp(`\\b${name}="([^"]*)"`).exec(tag)?.[1];
  for (const [tag] of form.matchAll(/<input(?:[^>"]|"[^"]*")*>/g)) {
    const name = attribute(tag, 'name') ?? '';
    const box = attribute(tag, 'type') === 'checkbox';
    if (name === '_csrf' || name === 'formKey' || (box && !/\bchecked\b/.test(tag))) continue;
    fields[name] = unescaped(attribute(tag, 'value') ?? '');
  }
  for (const [, tag = '', text = ''] of form.matchAll(/<textarea([^>]*)>([\s\S]*?)<\/textarea>/g))
    fields[attribute(tag, 'name') ?? ''] = unescaped(text);
  for (const [, tag = '', options = ''] of form.matchAll(/<select([^>]*)>([\s\S]*?)<\/select>/g)) {
    const chosen = /<option[^>]*\bselected\b[^>]*>/.exec(options)?.[0] ?? '';
    fields[attribute(tag, 'name') ?? ''] = attribute(chosen, 'value') ?? '';
  }
  return fields;
}

const newFields = async ({ owner }: Tested, changes: Fields = {}) => ({
  ...fieldsOf((await owner.get('/species/new?group=isopod')).text),
  scientificName: 'Exemplum fictum',
  commonName: 'example isopod',
  price: '12.50',
  ...changes,
});
const editFields = async ({ owner }: Tested, id: number) =>
  fieldsOf((await owner.get(`/species/${id}/edit`)).text);

const withLayers: Fields = {
  layerRows: '2',
  layer1Name: 'Soil',
  layer1Depth: '50',
  layer1PartRows: '2',
  layer1Part1Material: 'compost',
  layer1Part1Parts: '4',
  layer1Part1Settles: '90',
  layer1Part2Material: 'sand',
  layer1Part2Parts: '1',
  layer1Part2Settles: '',
  layer2Name: 'Leaves',
  layer2Depth: '2,5',
  layer2PartRows: '1',
  layer2Part1Material: 'dry leaves',
  layer2Part1Parts: '1',
  layer2Part1Settles: '50',
};

function inUsUnits({ db }: Tested) {
  const { id: _id, madeAt, ...values } = readBusiness(db);
  saveBusiness(db, { ...values, units: 'us' }, madeAt);
}

describe('a new species', () => {
  it('begins with its kind, and then with figures of common practice', async () => {
    const { owner } = await testApp();
    const first = (await owner.get('/species/new')).text;
    expect(first).toContain('href="/species/new?group=millipede"');
    expect(first).not.toContain('species-form');
    const form = (await owner.get('/species/new?group=isopod')).text;
    expect(form).toContain('Common practice, change to yours.');
    expect(form).toContain('A group of 12 has both sexes at least twice in 99.4\u00a0% of cases.');
    expect(fieldsOf(form)).toMatchObject({
      animalGroup: 'isopod',
      capacity: '20',
      price: '',
      layerRows: '1',
    });
    expect((await owner.get('/species/new?group=dragon')).text).not.toContain('species-form');
  });

  it('is kept whole: figures, care, layers, cautions, and who wrote it', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    const home = makeEnclosure(db, { heightMm: 120 });
    const fields = await newFields(tested, {
      ...withLayers,
      'care-food': 'Leaves.\r\nAlways.',
      'care-not-normal': 'A smell.',
      cautions: 'Never release them.',
      homeEnclosureId: String(home.id),
    });
    const answer = await owner.post('/species', fields);
    const row = db.select().from(species).get();
    expect(answer.headers.location).toBe(`/species/${row?.id}`);
    expect(row).toMatchObject({
      scientificName: 'Exemplum fictum',
      animalGroup: 'isopod',
      sellable: true,
      priceMinor: 1250,
      growthPerWeekMedian: Math.LN2 / 7.7,
      capacityPerLitreMedian: 20,
      detectionAlpha: 6,
      detectionBeta: 14,
      reserveShare: 0.5,
      homeEnclosureId: home.id,
    });
    const id = row?.id ?? 0;
    expect(readCare(db, id)).toMatchObject({ food: 'Leaves.\nAlways.', 'not-normal': 'A smell.', water: '' });
    expect(readLayers(db, id)).toEqual([
      {
        name: 'Soil',
        depthMm: 50,
        parts: [
          { material: 'compost', parts: 4, settling: 0.9 },
          { material: 'sand', parts: 1, settling: 1 },
        ],
      },
      { name: 'Leaves', depthMm: 2.5, parts: [{ material: 'dry leaves', parts: 1, settling: 0.5 }] },
    ]);
    const [noted] = db
      .select()
      .from(audit)
      .where(eq(audit.subject, `species ${id}`))
      .all();
    expect(noted).toMatchObject({ action: 'added', personId: 'person-owner' });
  });

  it('acts once when the form is sent twice, and answers the same', async () => {
    const tested = await testApp();
    const fields = await newFields(tested);
    const key = { formKey: 'the-same-form-key-01' };
    const first = await tested.owner.post('/species', fields, key);
    const second = await tested.owner.post('/species', fields, key);
    expect([second.status, second.headers.location]).toEqual([303, first.headers.location]);
    expect(tested.db.select().from(species).all()).toHaveLength(1);
  });

  it('brings a wrong form back with all that was typed', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    const fields = await newFields(tested, {
      ...withLayers,
      scientificName: '<b>Exemplum</b>',
      groupAdults: 'a dozen',
      idealLow: '40',
      layer1Depth: 'deep',
      layer2Part1Material: '',
      'care-food': 'Leaves & "bark".',
    });
    const answer = await owner.post('/species', fields);
    expect(answer.status).toBe(422);
    for (const message of [
      'Write a whole number, such as 12.',
      'Write how deep the layer is.',
      'Layer 2, material 1: Say which material.',
    ])
      expect(answer.text).toContain(message);
    const { scientificName, groupAdults, idealLow, ...rest } = fieldsOf(answer.text);
    expect({ scientificName, groupAdults, idealLow }).toEqual({
      scientificName: '<b>Exemplum</b>',
      groupAdults: 'a dozen',
      idealLow: '40',
    });
    expect(rest).toMatchObject({
      'care-food': 'Leaves & "bark".',
      layer1Depth: 'deep',
      layer2Name: 'Leaves',
    });
    const mended = { ...fields, layer1Depth: '50', layer2Part1Material: 'leaves', groupAdults: '12' };
    const order = await owner.post('/species', mended);
    expect(order.text).toContain('Must not be colder than the limit before it.');
    expect(db.select().from(species).all()).toHaveLength(0);
  });

  it('is refused where the stock already knows it, or its home cannot hold it', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    makeSpecies(db, { scientificName: 'EXEMPLUM FICTUM' });
    const low = makeEnclosure(db, { name: 'Low box', heightMm: 50, substrateDepthMm: 40 });
    const gone = makeEnclosure(db, { retiredAt: 5 });
    const send = async (changes: Fields) =>
      (await owner.post('/species', await newFields(tested, changes))).text;
    expect(await send({})).toContain('This species is written down already.');
    db.update(species).set({ retiredAt: 5 }).run();
    expect(await send({})).toContain('This species is retired: bring it back instead.');
    const other = { scientificName: 'Exemplum alterum' };
    expect(await send({ ...other, ...withLayers, homeEnclosureId: String(low.id) })).toContain(
      'The layers are 52.5 mm together, but the Low box is only 50 mm high.',
    );
    for (const homeEnclosureId of [String(gone.id), '999'])
      expect(await send({ ...other, homeEnclosureId })).toContain('Choose an enclosure of the list.');
    expect(db.select().from(species).all()).toHaveLength(1);
  });

  it('takes no field that the form does not have', async () => {
    const tested = await testApp();
    await tested.owner.post('/species', { ...(await newFields(tested)), id: 77, retiredAt: 5, importId: 3 });
    expect(tested.db.select().from(species).get()).toMatchObject({ id: 1, retiredAt: null, importId: null });
  });
});

describe('rows of layers', () => {
  it('are added, moved and taken out by buttons that save nothing', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    const fields = await newFields(tested, { ...withLayers, commonName: 'half done' });
    const press = async (rows: string) => {
      const answer = await owner.post('/species', { ...fields, rows });
      expect(answer.status).toBe(200);
      return fieldsOf(answer.text);
    };
    expect(await press('add-layer')).toMatchObject({
      layerRows: '3',
      layer3Name: '',
      commonName: 'half done',
    });
    expect(await press('add-part-1')).toMatchObject({ layer1PartRows: '3', layer1Part2Material: 'sand' });
    expect(await press('raise-1')).toMatchObject({ layer1Name: 'Leaves', layer2Part1Material: 'compost' });
    expect(await press('drop-1')).toMatchObject({ layerRows: '1', layer1Name: 'Leaves' });
    expect(db.select().from(species).all()).toHaveLength(0);
  });
});

describe('editing a species', () => {
  it.each(['metric', 'us'])('saved unchanged in %s units moves nothing', async (units) => {
    const tested = await testApp();
    const { db, owner } = tested;
    if (units === 'us') inUsUnits(tested);
    await owner.post('/species/starter-set');
    for (const before of db.select().from(species).orderBy(asc(species.id)).all()) {
      const was = [before, readCare(db, before.id), readLayers(db, before.id)];
      const answer = await owner.post(`/species/${before.id}/edit`, await editFields(tested, before.id));
      expect(answer.status, before.scientificName).toBe(303);
      expect([readSpecies(db, before.id), readCare(db, before.id), readLayers(db, before.id)]).toEqual(was);
    }
  });

  it('takes degrees Fahrenheit, inches and quarts', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    inUsUnits(tested);
    const { id } = makeSpecies(db);
    const page = (await owner.get(`/species/${id}/edit`)).text;
    expect(page).toContain('°F');
    expect(page).toContain('a quart');
    const fields = {
      ...(await editFields(tested, id)),
      ...withLayers,
      idealHigh: '80',
      layer1Depth: '2 1/4',
    };
    await owner.post(`/species/${id}/edit`, { ...fields, layer2Depth: '1' });
    expect(readSpecies(db, id)?.idealHighC).toBeCloseTo(26.667, 3);
    expect(readLayers(db, id).map((layer) => layer.depthMm)).toEqual([57.15, 25.4]);
  });

  it('writes down only what changed', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    await owner.post('/species/starter-set');
    const fields = await editFields(tested, 1);
    await owner.post('/species/1/edit', { ...fields, reserveAnimals: '30', 'care-water': 'Less.' });
    const row = db.select().from(audit).where(eq(audit.action, 'changed')).get();
    expect(JSON.parse(row?.before ?? '')).toMatchObject({ reserveAnimals: 24 });
    expect(JSON.parse(row?.after ?? '')).toEqual({ reserveAnimals: 30, 'care water': 'Less.' });
  });

  it('notices that somebody else saved meanwhile, and shows both', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    const { id } = makeSpecies(db);
    const fields = await editFields(tested, id);
    expect((await owner.post(`/species/${id}/edit`, { ...fields, reserveAnimals: '30' })).status).toBe(303);
    const late = await owner.post(`/species/${id}/edit`, { ...fields, reserveAnimals: '40' });
    expect(late.status).toBe(409);
    expect(late.text).toContain('Olive Owner saved this');
    expect(fieldsOf(late.text).reserveAnimals).toBe('40');
    expect(readSpecies(db, id)?.reserveAnimals).toBe(30);
    expect((await owner.post(`/species/${id}/edit`, fieldsOf(late.text))).status).toBe(303);
    expect(readSpecies(db, id)?.reserveAnimals).toBe(40);
  });

  it('keeps what was typed when it is wrong, and a retired home that it has', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    const home = makeEnclosure(db, { name: 'Old tub' });
    const { id } = makeSpecies(db, { homeEnclosureId: home.id });
    db.update(enclosures).set({ retiredAt: 5 }).run();
    const fields = await editFields(tested, id);
    expect(fields.homeEnclosureId).toBe(String(home.id));
    const wrong = await owner.post(`/species/${id}/edit`, { ...fields, groupAdults: '-1' });
    expect([wrong.status, fieldsOf(wrong.text).groupAdults]).toEqual([422, '-1']);
    expect((await owner.post(`/species/${id}/edit`, fields)).status).toBe(303);
    expect(readSpecies(db, id)?.homeEnclosureId).toBe(home.id);
  });

  it('works the estimates out anew when the beliefs change, and only then', async () => {
    const tested = await testApp();
    const { db, owner } = tested;
    const { id } = makeSpecies(db);
    const culture = makeCulture(db, { speciesId: id });
    const fields = await editFields(tested, id);
    await owner.post(`/species/${id}/edit`, { ...fields, 'care-food': 'Leaves.' });
    expect(readEstimate(db, culture.id)).toBeUndefined();
    const again = await editFields(tested, id);
    await owner.post(`/species/${id}/edit`, { ...again, reserveAnimals: '100', reservePercent: '0' });
    expect(readEstimate(db, culture.id)?.reserve).toBe(100);
  });
});

describe('the line that says how safe a start is', () => {
  it('follows what is typed', async () => {
    const { owner } = await testApp();
    const ask = async (fields: Fields) =>
      (await owner.get(`/species/safety?${new URLSearchParams(fields)}`, { 'HX-Request': 'true' })).text;
    const even = {
      groupAdults: '10',
      groupJuveniles: '2',
      femalePercent: '50',
      startMales: '2',
      startFemales: '2',
    };
    expect(await ask(even)).toContain('in 99.4\u00a0% of cases.');
    expect(await ask({ ...even, groupAdults: '3' })).toContain('A larger group is safer.');
    expect(await ask({ ...even, parthenogenetic: 'yes' })).toContain('all are females that need no male');
    for (const wrong of ['', 'x', '-1', '1.5', '1e9'])
      expect(await ask({ ...even, groupAdults: wrong }), wrong).toContain('stands here once');
  });
});
