import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { withdrawEntry } from '../../server/cultures/queries-diary.ts';
import { culturePlans, diary, materials, recipeLayers, species } from '../../server/schema/tables.ts';
import { openPlans } from '../../server/splits/queries-plans.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { makeCulture, makeEnclosure, makeEstimate, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

async function bench(estimate: Parameters<typeof makeEstimate>[2] = {}) {
  const t = await testApp();
  const enclosure = makeEnclosure(t.db, { name: 'Litre box', lengthMm: 200, widthMm: 100, heightMm: 90 });
  const culture = makeCulture(t.db, { enclosureId: enclosure.id, code: 'EX-A' });
  makeEstimate(t.db, culture.id, { median: 100, capacityMedian: 180, ...estimate });
  return { t, culture, enclosure };
}

const plan = (enclosureId: number, more: Record<string, string | number> = {}) => ({
  what: 'split',
  onDay: '2026-11-27',
  enclosureId,
  enclosures: 2,
  ...more,
});
const open = (t: TestApp) => openPlans(t.db).map(({ code, what, onDay }) => `${code} ${what} ${onDay}`);
const text = (html: string) => html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');

describe('a planned split', () => {
  it('stands on the page of its culture and on the list of its week, and is called off and taken back', async () => {
    const { t, enclosure } = await bench();
    const sent = await t.helper.post('/cultures/EX-A/plan', plan(enclosure.id));
    expect([sent.status, sent.headers.location]).toEqual([303, '/cultures/EX-A']);
    expect(text((await t.helper.get('/cultures/EX-A')).text)).toContain(
      'Split on Fri 27 Nov, into 2 × Litre box, planned by Hal Helper.',
    );
    const list = text((await t.helper.get('/substrate')).text);
    expect(list).toContain('2 × Litre box');
    await t.helper.post('/plans/1/cancel', { back: 'substrate' });
    expect(open(t)).toEqual([]);
    expect(text((await t.helper.get('/substrate')).text)).toContain('Nothing is planned until Sun 29 Nov.');
    await t.owner.post('/plans/1/resume');
    expect(open(t)).toEqual(['EX-A split 2026-11-27']);
  });

  it('is planned once, on a day to come, into an enclosure there is', async () => {
    const { t, enclosure } = await bench();
    const formKey = 'plan-0123456789abcdef';
    await t.helper.post('/cultures/EX-A/plan', plan(enclosure.id), { formKey });
    expect((await t.helper.post('/cultures/EX-A/plan', plan(enclosure.id), { formKey })).status).toBe(303);
    const again = await t.helper.post('/cultures/EX-A/plan', plan(enclosure.id));
    expect([again.status, again.text.includes('is planned for the culture already')]).toEqual([422, true]);
    const wrongs: Record<string, string | number>[] = [
      { onDay: '2026-11-24' },
      { onDay: '2029-01-01' },
      { enclosureId: 999 },
      { enclosures: 0 },
    ];
    for (const wrong of wrongs)
      expect(
        (await t.helper.post('/cultures/EX-A/plan', plan(enclosure.id, { what: 'repot', ...wrong }))).status,
      ).toBe(422);
    expect(t.db.select().from(culturePlans).all()).toHaveLength(1);
  });

  it('is done by itself when the split is written, and open again when that is taken back', async () => {
    const t = await testApp();
    const culture = makeCounted(t.db, makeSpecies(t.db).id, 400);
    const before = { adults: 20, juveniles: 10, enclosureId: culture.enclosureId, onDay: testToday };
    await t.helper.post(`/cultures/${culture.code}/split`, { ...before, code: 'EX-OLD' });
    await t.helper.post(`/cultures/${culture.code}/plan`, plan(culture.enclosureId));
    expect(open(t)).toHaveLength(1);
    const split = await t.helper.post(`/cultures/${culture.code}/split`, { ...before, code: 'EX-NEW' });
    expect(split.status).toBe(303);
    expect(open(t)).toEqual([]);
    const entry = t.db.select().from(diary).where(eq(diary.kind, 'split')).all().at(-1);
    withdrawEntry(t.db, entry?.id ?? 0, { madeBy: cast.owner.id, madeAt: testNow });
    expect(open(t)).toHaveLength(1);
  });
});

describe('a proposal', () => {
  const forecast = JSON.stringify([
    { date: '2026-12-02', median: 150, lower: 1, upper: 2 },
    { date: '2026-12-09', median: 170, lower: 1, upper: 2 },
  ]);

  it('names the day a culture is likely full and is taken over with one press', async () => {
    const { t, enclosure } = await bench({ median: 140, forecast });
    expect((await t.helper.get('/substrate')).text).not.toContain('Plan the split');
    const list = await t.helper.get('/substrate?weeks=4');
    // 162 of 180 lies 12 / 20 of the way from 150 to 170: 4.2 of 7 days, the fifth
    expect(list.text).toContain('Plan the split for Mon 7 Dec');
    const fields = { what: 'split', onDay: '2026-12-07', enclosureId: enclosure.id, enclosures: 1 };
    const sent = await t.helper.post('/cultures/EX-A/plan', { ...fields, back: 'substrate' });
    expect(sent.headers.location).toBe('/substrate');
    expect(open(t)).toEqual(['EX-A split 2026-12-07']);
    expect((await t.helper.get('/substrate?weeks=4')).text).not.toContain('Plan the split for');
  });

  it('names old substrate too; planned with one press, it is done when the renewal is written', async () => {
    const { t, culture, enclosure } = await bench({ median: 10 });
    t.db.update(species).set({ substrateMonths: 6 }).where(eq(species.id, culture.speciesId)).run();
    const list = await t.helper.get('/substrate');
    expect(text(list.text)).toContain('Old substrate');
    expect(list.text).toContain('Plan it for Wed 25 Nov: fresh substrate of EX-A');
    const fields = { what: 'repot', onDay: testToday, enclosureId: enclosure.id, enclosures: 1 };
    await t.helper.post('/cultures/EX-A/plan', { ...fields, back: 'substrate' });
    expect(open(t)).toEqual(['EX-A repot 2026-11-25']);
    const page = text((await t.helper.get('/substrate')).text);
    expect([page.includes('Old substrate'), page.includes('1 × Litre box')]).toEqual([false, true]);
    await t.helper.post('/cultures/EX-A/check', { onDay: testToday, substrate: 'new' });
    expect(open(t)).toEqual([]);
  });

  it('is none for what is held for its health', async () => {
    const { t } = await bench({ median: 179, health: 'mites' });
    expect((await t.helper.get('/substrate')).text).not.toContain('Plan the split');
  });
});

describe('the list of the week', () => {
  it('says in litres and quarts what to mix in all and for one, and what to buy in bags', async () => {
    const { t, enclosure, culture } = await bench();
    await t.helper.post('/cultures/EX-A/plan', plan(enclosure.id, { enclosures: 4 }));
    const recipe = `/substrate/recipes/${culture.speciesId}/${enclosure.id}`;
    const layers = {
      layerRows: 1,
      layer1Name: 'Soil',
      layer1Depth: 50,
      layer1PartRows: 2,
      layer1Part1Material: 'sand',
      layer1Part1Parts: 3,
      layer1Part2Material: 'leaf mould',
      layer1Part2Parts: 1,
      layer1Part2Settles: 50,
    };
    expect((await t.owner.save(recipe, layers)).headers.location).toBe('/substrate');
    const shelf = { unit: 'l', name0: 'sand', inHand0: 1, bag0: 1.5, spare: 25 };
    expect((await t.owner.save('/substrate/materials', shelf)).status).toBe(303);
    const page = text((await t.owner.get('/substrate')).text);
    // a litre each: 3 parts sand and 1 part that settles to a half fill 3.5 parts; five quarters of four litres
    expect(page).toContain('sand 4.3 L (4½ qt) 3 860 ml (3½ cups) Soil, 5 cm');
    expect(page).toContain('leaf mould 1.4 L (1½ qt) 1 290 ml (1¼ cups)');
    // 4.29 litres needed, one is there, 3.29 in bags of 1.5
    expect(page).toContain('sand 4.3 L (4½ qt) 1 L (1 qt) 3 bags of 1.5 L (1½ qt)');
    expect(page).toContain('its own recipe');
  });

  it('takes bags in dry quarts and keeps what was not changed to the last digit', async () => {
    const { t } = await bench();
    const sent = { unit: 'dry-qt', name0: 'Sand', inHand0: '', bag0: 8, spare: 10 };
    await t.owner.save('/substrate/materials', sent);
    const bag = () => t.db.select().from(materials).all()[0]?.bagLitres;
    // 8 x 1.101220942715 (NIST Handbook 44, Appendix C)
    expect(bag()).toBeCloseTo(8.80976754172, 9);
    const shown = (await t.owner.get('/substrate/materials?unit=l')).text;
    expect(shown).toContain('value="8.81"');
    await t.owner.save('/substrate/materials', { ...sent, unit: 'l', bag0: '8.81' });
    expect(bag()).toBeCloseTo(8.80976754172, 9);
    const wrong = await t.owner.post('/substrate/materials', { ...sent, inHand0: 'some' });
    expect([wrong.status, wrong.text.includes('value="some"')]).toEqual([422, true]);
  });

  it('lets a helper say what is there, but not change the bags, the spare share or a recipe', async () => {
    const { t, enclosure, culture } = await bench();
    await t.owner.save('/substrate/materials', { unit: 'l', name0: 'sand', bag0: 12, spare: 10 });
    await t.helper.save('/substrate/materials', { unit: 'l', name0: 'sand', inHand0: 3, bag0: 1, spare: 99 });
    expect(t.db.select().from(materials).all()).toEqual([{ name: 'sand', inHandLitres: 3, bagLitres: 12 }]);
    expect(text((await t.helper.get('/substrate')).text)).toContain('holds 10 % more');
    const recipe = `/substrate/recipes/${culture.speciesId}/${enclosure.id}`;
    expect((await t.helper.post(recipe, {})).status).toBe(403);
  });

  it('gives a recipe that does not fit back with what was typed, and rows without saving', async () => {
    const { t, enclosure, culture } = await bench();
    const recipe = `/substrate/recipes/${culture.speciesId}/${enclosure.id}`;
    const deep = { layerRows: 1, layer1Name: 'Deep', layer1Depth: 95, layer1PartRows: 1 };
    const fields = { ...deep, layer1Part1Material: 'sand', layer1Part1Parts: 1 };
    const wrong = await t.owner.post(recipe, fields);
    expect(wrong.status).toBe(422);
    expect(wrong.text).toContain('The layers are 95 mm together, but the Litre box is only 90 mm high.');
    const rows = await t.owner.post(recipe, { ...fields, rows: 'add-layer' });
    expect([rows.status, rows.text.includes('layer2Name')]).toEqual([200, true]);
    expect(t.db.select().from(recipeLayers).all()).toEqual([]);
    await t.owner.save(recipe, { ...fields, layer1Depth: 90 });
    expect(t.db.select().from(recipeLayers).all()).toHaveLength(1);
    await t.owner.post(`${recipe}/drop`);
    expect(t.db.select().from(recipeLayers).all()).toEqual([]);
  });
});
