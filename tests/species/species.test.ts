import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { insertLine } from '../../server/lines/queries.ts';
import { enclosures, species, speciesCare } from '../../server/schema/tables.ts';
import { speciesNamed } from '../../server/species/queries.ts';
import { standingCautions } from '../../shared/species/cautions.ts';
import { starterSpecies } from '../../shared/species/starter-set.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

describe('who may see and change species', () => {
  it('is anybody on the staff for reading, the owner for the rest', async () => {
    const { db, owner, helper, outsider } = await testApp();
    const { id } = makeSpecies(db);
    for (const path of ['/species', `/species/${id}`]) {
      expect((await helper.get(path)).status, path).toBe(200);
      expect((await outsider.get(path)).headers.location, path).toBe(
        `/sign-in?next=${encodeURIComponent(path)}`,
      );
    }
    const seen = (await helper.get(`/species/${id}`)).text;
    for (const control of [`/species/${id}/edit`, 'Retire this species', 'New line'])
      expect(seen).not.toContain(control);
    for (const path of ['/species/new', '/species/safety', `/species/${id}/edit`]) {
      expect((await owner.get(path)).status, path).toBe(200);
      expect((await helper.get(path)).status, path).toBe(403);
    }
    for (const path of ['', '/starter-set', `/${id}/edit`, `/${id}/retire`, `/${id}/bring-back`]) {
      expect((await helper.post(`/species${path}`)).status, path).toBe(403);
      expect((await outsider.post(`/species${path}`)).headers.location, path).toBe('/sign-in');
    }
    expect(db.select().from(species).all()).toHaveLength(1);
  });

  it('says of an unknown one that it is not here', async () => {
    const { owner } = await testApp();
    for (const id of ['1', '0', '-1', '1.5', 'abc', '1%20OR%201=1', '99999999999999999999']) {
      expect((await owner.get(`/species/${id}`)).status, id).toBe(404);
      expect((await owner.get(`/species/${id}/edit`)).status, id).toBe(404);
      for (const action of ['edit', 'retire', 'bring-back'])
        expect((await owner.post(`/species/${id}/${action}`)).status, id).toBe(404);
    }
  });
});

describe('the list of species', () => {
  it('finds by any name, also by what the trade says', async () => {
    const { db, owner } = await testApp();
    makeSpecies(db, { scientificName: 'Porcellionides pruinosus', commonName: 'powder blue isopod' });
    makeSpecies(db, { scientificName: 'Exemplum fictum', commonName: '100% invented' });
    const found = async (words: string) => {
      const list = (await owner.get(`/species?words=${encodeURIComponent(words)}`)).text;
      return [list.includes('Porcellionides pruinosus</i>'), list.includes('Exemplum fictum')];
    };
    expect(await found('')).toEqual([true, true]);
    expect(await found('PRUINOSUS')).toEqual([true, false]);
    expect(await found('powder orange')).toEqual([true, false]);
    expect(await found('100%')).toEqual([false, true]);
    expect(await found('%')).toEqual([false, true]);
    expect(await found('dragon')).toEqual([false, false]);
  });

  it('counts the cultures that are kept, quarantine by itself', async () => {
    const { db, helper } = await testApp();
    const { id } = makeSpecies(db);
    for (const status of ['active', 'active', 'quarantine', 'retired'] as const)
      makeCulture(db, { speciesId: id, status });
    const list = (await helper.get('/species')).text;
    expect(list).toContain(`<a href="/cultures?species=${id}">3</a>`);
    expect(list).toContain('1 in quarantine');
  });

  it('shows the retired ones when asked', async () => {
    const { db, owner } = await testApp();
    makeSpecies(db, { scientificName: 'Exemplum vetus', retiredAt: 5 });
    makeSpecies(db, { scientificName: 'Exemplum novum' });
    expect((await owner.get('/species')).text).not.toContain('Exemplum vetus');
    const retired = (await owner.get('/species?retired=yes')).text;
    expect([retired.includes('Exemplum vetus'), retired.includes('Exemplum novum')]).toEqual([true, false]);
  });
});

describe('a fresh installation', () => {
  it('begins with common species at one press, however often it is pressed', async () => {
    const { db, owner, helper } = await testApp();
    expect((await helper.get('/species')).text).not.toContain('Start with common species');
    expect((await owner.get('/species')).text).toContain('Start with common species');
    for (let times = 0; times < 2; times += 1)
      await owner.post('/species/starter-set', {}, { formKey: 'the-same-form-key-01' });
    await owner.post('/species/starter-set');
    expect(db.select().from(species).all()).toHaveLength(starterSpecies.length);
    expect((await owner.get('/species')).text).toContain('All common species are here already.');
    for (const { id, scientificName } of db.select().from(species).all()) {
      const shown = await owner.get(`/species/${id}`);
      expect(shown.status, scientificName).toBe(200);
      expect((await owner.get(`/species/${id}/edit`)).status, scientificName).toBe(200);
    }
  });

  it('leaves alone what the owner has written already', async () => {
    const { db, owner } = await testApp();
    makeSpecies(db, { scientificName: 'porcellio laevis', commonName: 'mine' });
    await owner.post('/species/starter-set');
    expect(db.select().from(species).all()).toHaveLength(starterSpecies.length);
    expect(speciesNamed(db, 'Porcellio laevis')?.commonName).toBe('mine');
  });
});

describe('the page of a species', () => {
  it('shows the drawn home, the recipe, limits, care and cautions', async () => {
    const { db, owner, helper } = await testApp();
    await owner.post('/species/starter-set');
    const row = speciesNamed(db, 'Armadillidium maculatum');
    insertLine(db, { speciesId: row?.id ?? 0, name: 'Old quarry', locality: '', note: '' });
    const page = (await helper.get(`/species/${row?.id}`)).text;
    expect(page).toContain('A group of 12 has both sexes at least twice in 99.4\u00a0% of cases.');
    expect(page).toContain('Best at 20 to 25\u00a0°C; below 8\u00a0°C or above 29\u00a0°C they come to harm');
    expect(page).toContain('Section from the floor up: Soil mix 5.5\u00a0cm; Dry hardwood leaves 2\u00a0cm');
    expect(page).toContain('leaf compost, free of pesticide');
    expect(page).toContain('They hide by day and roll up when touched.');
    expect(page).toContain('Mould on rotten wood and leaves can trigger allergies');
    for (const caution of standingCautions) expect(page).toContain(caution);
    expect(page).toContain('doubles in about 9.9 (4.4 to 23) weeks');
    expect(page).toContain('of 20 animals about 6 show');
    expect(page).toContain('How is this worked out?');
    expect(page).toContain('Old quarry');
    expect(page).not.toContain('style=');
  });

  it('says when the layers stand above the rim', async () => {
    const { db, owner } = await testApp();
    await owner.post('/species/starter-set');
    const row = speciesNamed(db, 'Armadillidium maculatum');
    db.update(enclosures)
      .set({ substrateDepthMm: 40, heightMm: 50 })
      .where(eq(enclosures.id, row?.homeEnclosureId ?? 0))
      .run();
    const page = (await owner.get(`/species/${row?.id}`)).text;
    expect(page).toContain('The layers stand 2.5\u00a0cm above the rim');
  });

  it('shows what is written as text, whatever it is', async () => {
    const { db, owner } = await testApp();
    const { id } = makeSpecies(db, {
      scientificName: '<script>alert(1)</script>',
      cautions: '<img src=x onerror=alert(2)>',
    });
    db.insert(speciesCare)
      .values({ speciesId: id, heading: 'food', text: '</dd><script>alert(3)</script>' })
      .run();
    const page = (await owner.get(`/species/${id}`)).text;
    expect(page).not.toContain('<script>alert');
    expect(page).not.toContain('<img src=x');
    expect(page).toContain('&lt;script>alert(3)');
  });

  it('asks for a price and for cautions where they are missing', async () => {
    const { db, owner } = await testApp();
    const { id } = makeSpecies(db, { priceMinor: 0 });
    const page = (await owner.get(`/species/${id}`)).text;
    expect(page).toContain('A starter group has no price yet.');
    expect(page).toContain('No cautions of its own are written down.');
    expect(page).toContain('No enclosure is chosen');
  });
});

describe('retiring a species', () => {
  it('keeps its cultures, takes it from the forms, and comes back with Undo', async () => {
    const { db, owner } = await testApp();
    const { id } = makeSpecies(db, { scientificName: 'Exemplum fictum' });
    makeCulture(db, { speciesId: id });
    await owner.post(`/species/${id}/retire`);
    const page = (await owner.get(`/species/${id}`)).text;
    expect(page).toContain(
      'Exemplum fictum is retired: no new cultures, no new orders. 1 culture of it stays',
    );
    expect(page).toContain('Undo');
    expect((await owner.get('/cultures/new')).text).not.toContain('Exemplum fictum');
    await owner.post(`/species/${id}/bring-back`);
    expect((await owner.get('/cultures/new')).text).toContain('Exemplum fictum');
  });

  it.each([
    ['draft', true],
    ['confirmed', true],
    ['packed', false],
    ['cancelled', false],
  ] as const)('with a %s order of it is refused: %s', async (state, refused) => {
    const { db, owner } = await testApp();
    const { id } = makeSpecies(db);
    const order = makeOrder(db, { state });
    makeLine(db, order.id, id);
    await owner.post(`/species/${id}/retire`);
    const kept = db.select().from(species).where(eq(species.id, id)).get();
    expect(kept?.retiredAt === null).toBe(refused);
    if (refused)
      expect((await owner.get(`/species/${id}`)).text).toContain(
        `order ${order.number} still promises animals of it`,
      );
  });
});
