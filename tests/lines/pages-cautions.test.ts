import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { insertLine } from '../../server/lines/queries.ts';
import { keepApart } from '../../server/lines/queries-apart.ts';
import { kinshipOf } from '../../server/lines/queries-kinship.ts';
import { allocations, cultureEstimates } from '../../server/schema/tables.ts';
import { lineageInput } from '../../shared/lines/form.ts';
import { lineage } from '../../shared/lines/lineage.ts';
import { startEffect } from '../../shared/lines/page-start.ts';
import { groupsField } from '../../shared/orders/form.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeSpecies, makeStock } from '../support/stock.ts';
import { testApp, testToday } from '../support/test-app.ts';
import { bench, smallStory } from './pages-story.ts';

const plain = (html: string) =>
  html
    .replace(/<[^>]*>/g, ' ')
    .replaceAll('&nbsp;', ' ')
    .replace(/\s+/g, ' ');

describe('the form of a split', () => {
  it('says what the typed start does, here and in the new culture', async () => {
    const app = await testApp();
    const { species, child } = smallStory(app.db);
    const at = `/cultures/${child.code}/split/start`;
    const { text, status } = await app.helper.get(`${at}?adults=10&juveniles=4`, { 'HX-Request': 'true' });
    const answer = lineage(lineageInput.parse(kinshipOf(app.db, species.id, testToday)!.lineage));
    const kept = answer.cultures.find(({ code }) => code === child.code)!.heterozygosityKept;
    const effect = startEffect(14, { femaleShare: 0.5, neRatio: 0.5 }, kept);
    expect(status).toBe(200);
    expect(text).not.toContain('<html');
    // 0.5 x 4 x 0.5 x 0.5 x 14 = 7 effective animals; one founding step leaves 1 - 1/14 (Wright 1931)
    expect(effect.keptOfParent).toBeCloseTo(1 - 1 / 14, 12);
    expect(plain(text)).toContain('14 animals: an effective size of about 7;');
    expect(plain(text)).toContain(
      `the new culture keeps ${Math.round(effect.kept! * 100)} % of the founders’ heterozygosity, SP-1 ${Math.round(kept * 100)} %`,
    );
  });

  it('shows starts of usual sizes without a script, and the typed one when the form comes back', async () => {
    const app = await testApp();
    const { first } = smallStory(app.db);
    const at = `/cultures/${first.code}/split`;
    const shown = plain((await app.helper.get(at)).text);
    for (const words of ['12 animals about 6', '24 animals about 12', '48 animals about 24'])
      expect(shown).toContain(words);
    expect(shown).toContain('With fewer than 100 animals the effective size is below 50');
    const back = await app.helper.post(at, { adults: '3', juveniles: '1', enclosureId: '999' });
    expect(back.status).toBe(422);
    expect(plain(back.text)).toContain('4 animals: an effective size of about 2;');
  });

  it('makes nothing of nonsense, and nothing for females alone', async () => {
    const app = await testApp();
    const { first } = smallStory(app.db);
    const at = `/cultures/${first.code}/split/start`;
    for (const query of ['', '?adults=', '?adults=-4', '?adults=1e9', '?adults=<b>', '?juveniles=9999999'])
      expect(plain((await app.helper.get(at + query)).text), query).toMatch(/^ FO-1 keeps \d+ %/);
    expect((await app.helper.get('/cultures/NO-1/split/start')).status).toBe(404);
    const clones = bench(app.db, { femaleShare: 1 }).found('CL-1', '2026-01-10');
    const { text } = await app.helper.get(`/cultures/${clones.code}/split`);
    expect(text).toContain('each line counts as one clone');
    expect(text).not.toContain('Starts and what they keep');
  });
});

describe('the page before a harvest', () => {
  it('says how small the effective size is, and objects to nothing for it', async () => {
    const app = await testApp();
    const { first } = smallStory(app.db);
    const median = app.db
      .select()
      .from(cultureEstimates)
      .where(eq(cultureEstimates.cultureId, first.id))
      .get()!.median!;
    const { text } = await app.helper.get(`/cultures/${first.code}/write?kind=harvest`);
    expect(plain(text)).toContain(`The effective size is about ${Math.round(median / 2)} now.`);
    expect(plain(text)).toContain('each generation then loses more than 1 % of the heterozygosity');
  });
});

describe('the surplus page', () => {
  it('puts the cultures with the commonest genes of a species first when asked', async () => {
    const app = await testApp();
    const { species } = smallStory(app.db);
    const answer = lineage(lineageInput.parse(kinshipOf(app.db, species.id, testToday)!.lineage));
    const mean = new Map(answer.cultures.map(({ code, meanKinship }) => [code, meanKinship]));
    const { text } = await app.helper.get('/surplus?sort=common');
    const codes = [...text.matchAll(/class="code" href="\/cultures\/([A-Z]+-\d)"/g)].map(([, code]) => code!);
    expect(codes).toEqual([...codes].sort((a, b) => mean.get(b)! - mean.get(a)!));
    expect(codes).toHaveLength(4);
    const shown = [...text.matchAll(/data-label="Mean kinship">([\d.]+)</g)].map(([, value]) => value);
    expect(shown).toEqual(codes.map((code) => mean.get(code)!.toFixed(2)));
    expect((await app.helper.get('/surplus')).text).not.toContain('data-label="Mean kinship"');
  });

  it('leaves females alone in the order of their codes', async () => {
    const app = await testApp();
    smallStory(app.db, { femaleShare: 1 });
    const { text } = await app.helper.get('/surplus?sort=common');
    expect(text.match(/data-label="Mean kinship"><\/td>/g)).toHaveLength(4);
  });
});

/** An order for three groups of a species with three cultures to take from: two of one line, one of another. */
async function order(mark: 'pure' | 'pair' | 'none') {
  const app = await testApp();
  const species = makeSpecies(app.db, { scientificName: 'Exemplum unum' });
  const line = (name: string, keptPure: 'no' | 'line' = 'no') =>
    insertLine(app.db, { speciesId: species.id, name, locality: '', note: '', keptPure });
  const [dusk, dawn] = [line('dusk', mark === 'pure' ? 'line' : 'no'), line('dawn')];
  if (mark === 'pair') keepApart(app.db, dusk, [dawn]);
  const make = (code: string, lineId: number | null) => makeStock(app.db, species.id, {}, { code, lineId });
  const [a, b, c] = [make('DU-1', dusk), make('DU-2', dusk), make('DA-1', dawn)];
  const made = makeOrder(app.db);
  const wanted = makeLine(app.db, made.id, species.id, { groups: 3 });
  const field = (culture: { id: number }) => groupsField(wanted.id, culture.id);
  const at = `/orders/${made.number}`;
  const reserved = () => app.db.select().from(allocations).all().length;
  return { ...app, species, a, b, c, made, wanted, field, at, reserved };
}

describe('reserving for one line of an order', () => {
  it.each(['pure', 'pair'] as const)('never brings together what is kept apart (%s)', async (mark) => {
    const t = await order(mark);
    const says = 'DA-1 must not come together with DU-1: ';
    const both = await t.owner.post(`${t.at}/reserve`, { [t.field(t.a)]: '1', [t.field(t.c)]: '1' });
    expect([both.status, both.text.includes(says)]).toEqual([422, true]);
    expect(both.text).toContain('Give it a line of its own in the order.');
    expect(t.reserved()).toBe(0);
    const one = await t.owner.post(`${t.at}/reserve`, { [t.field(t.a)]: '1', [t.field(t.b)]: '1' });
    expect([one.status, t.reserved()]).toEqual([303, 2]);
    const shown = (await t.owner.get(t.at)).text;
    expect(shown).toContain('DA-1 must not come together with DU-');
    const later = await t.owner.post(`${t.at}/reserve`, {
      [t.field(t.c)]: '1',
      override: 'yes',
      overrideReason: 'they asked for it',
    });
    expect([later.status, t.reserved()]).toEqual([422, 2]);
    expect(later.text).toContain('DA-1 must not come together with DU-');
  });

  it('fills another line of the order from another line of the species', async () => {
    const t = await order('pure');
    const second = makeLine(t.db, t.made.id, t.species.id, { position: 1 });
    const answer = await t.owner.post(`${t.at}/reserve`, {
      [t.field(t.a)]: '1',
      [groupsField(second.id, t.c.id)]: '1',
    });
    expect([answer.status, t.reserved()]).toEqual([303, 2]);
  });

  it('does as before where nothing is marked', async () => {
    const t = await order('none');
    const answer = await t.owner.post(`${t.at}/reserve`, { [t.field(t.a)]: '1', [t.field(t.c)]: '1' });
    expect([answer.status, t.reserved()]).toEqual([303, 2]);
  });

  it('tells where a group less leaves a small effective size, and reserves all the same', async () => {
    const t = await order('none');
    t.db.update(cultureEstimates).set({ median: 90 }).where(eq(cultureEstimates.cultureId, t.a.id)).run();
    const { text } = await t.owner.get(t.at);
    // 90 less a group of 14 are 76 animals, half of which count (0.5 x 4 x 0.5 x 0.5)
    expect(plain(text)).toContain('a group less leaves an effective size of about 38');
    expect(text.match(/leaves an effective size/g)).toHaveLength(1);
    expect((await t.owner.post(`${t.at}/reserve`, { [t.field(t.a)]: '1' })).status).toBe(303);
  });
});
