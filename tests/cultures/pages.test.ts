import { describe, expect, it } from 'vitest';
import { audit, cultures } from '../../server/schema/tables.ts';
import { makeCounted } from '../support/counted.ts';
import { makeCulture, makeEnclosure, makePlace, makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

const founding = { foundedOn: '2026-11-01', origin: 'bought', foundingAnimals: '25', founding: 'about' };

async function ready() {
  const app = await testApp();
  const species = makeSpecies(app.db, { scientificName: 'Eatum album' });
  const enclosure = makeEnclosure(app.db);
  const form = { ...founding, speciesId: String(species.id), enclosureId: String(enclosure.id) };
  return { app, species, enclosure, form };
}
const all = ({ db }: Awaited<ReturnType<typeof testApp>>) => db.select().from(cultures).all();

describe('who may see cultures', () => {
  it('is everybody who is signed in', async () => {
    const app = await testApp();
    const { code } = makeCounted(app.db);
    for (const path of ['/cultures', '/cultures/new', `/cultures/${code}`, `/cultures/${code}/edit`]) {
      for (const who of [app.helper, app.owner]) expect((await who.get(path)).status, path).toBe(200);
      expect((await app.outsider.get(path)).status, path).toBe(303);
    }
    for (const path of ['/cultures/NO-1', '/cultures/NO-1/edit'])
      expect((await app.owner.get(path)).status, path).toBe(404);
    expect((await app.helper.get(`/cultures/${code.toLowerCase()}`)).status).toBe(200);
  });
});

describe('founding a culture', () => {
  it('writes it down with the next free code and its estimate', async () => {
    const { app, form } = await ready();
    const answer = await app.helper.post('/cultures', form);
    expect([answer.status, answer.headers.location]).toEqual([303, '/cultures/EA-001']);
    expect(all(app)).toMatchObject([
      { code: 'EA-001', foundingAnimals: 25, foundingSdLog: 0.15, madeBy: 'person-helper' },
    ]);
    const { text } = await app.helper.get('/cultures/EA-001');
    expect(text).toContain('EA-001 is written down.');
    expect(text).toMatch(/about \d\d \(\d+ to \d+\)/);
    expect(app.db.select().from(audit).all()).toHaveLength(1);
    await app.helper.post('/cultures', form);
    expect(all(app)[1]?.code).toBe('EA-002');
  });

  it('acts once when the form is sent twice', async () => {
    const { app, form } = await ready();
    const key = { formKey: 'the-same-form-key-01' };
    const first = await app.helper.post('/cultures', { ...form, code: 'EX-7' }, key);
    const second = await app.helper.post('/cultures', { ...form, code: 'EX-7' }, key);
    expect([second.status, second.headers.location]).toEqual([303, first.headers.location]);
    expect(all(app)).toHaveLength(1);
  });

  it('brings a wrong form back with what was typed', async () => {
    const { app, form, species } = await ready();
    makeCulture(app.db, { code: 'EX-7', speciesId: species.id });
    for (const [more, says] of [
      [{ code: 'ex-7' }, 'is a culture already'],
      [{ code: '<script>' }, 'Letters, digits'],
      [{ speciesId: '999' }, 'Choose a species of the list.'],
      [{ enclosureId: '999' }, 'Choose an enclosure of the list.'],
      [{ foundedOn: '2026-11-26' }, 'That day is still to come.'],
      [{ foundedOn: '2026-02-30' }, 'is not a day of the calendar'],
      [{ foundingAnimals: '0' }, 'At least one animal.'],
      [{ foundingAnimals: 'some' }, 'A whole number'],
    ] as const) {
      const answer = await app.helper.post('/cultures', {
        ...form,
        note: '<script>alert(1)</script>',
        ...more,
      });
      expect(answer.status, says).toBe(422);
      expect(answer.text.includes(says), says).toBe(true);
      expect(answer.text.includes('&lt;script>alert(1)'), says).toBe(true);
    }
    expect((await app.helper.post('/cultures', form, { csrf: 'wrong' })).status).toBe(403);
    expect(all(app)).toHaveLength(1);
  });
});

describe('the list of cultures', () => {
  it('finds, filters and sorts on the server', async () => {
    const app = await testApp();
    const place = makePlace(app.db, { name: 'Window' });
    const white = makeSpecies(app.db, { scientificName: 'Exemplum album' });
    makeCounted(app.db, 200, { code: 'AL-001', speciesId: white.id, placeId: place.id, morph: '100%' });
    makeCounted(app.db, 50, { code: 'ZZ-001' });
    makeCulture(app.db, { code: 'ZZ-002', status: 'retired' });
    makeCulture(app.db, { code: 'ZZ-003', status: 'quarantine' });
    const listed = async (query: string) => {
      const { status, text } = await app.helper.get(`/cultures?${query}`);
      expect(status, query).toBe(200);
      return [...text.matchAll(/<a class="code" href="\/cultures\/([^"]+)"/g)].map((m) => m[1]);
    };
    expect((await listed('')).sort()).toEqual(['AL-001', 'ZZ-001', 'ZZ-003']);
    expect(await listed('q=al-0')).toEqual(['AL-001']);
    expect(await listed('q=window')).toEqual(['AL-001']);
    expect(await listed('q=%25')).toEqual(['AL-001']);
    expect(await listed(`species=${white.id}`)).toEqual(['AL-001']);
    expect(await listed(`place=${place.id}`)).toEqual(['AL-001']);
    expect(await listed('status=retired')).toEqual(['ZZ-002']);
    expect(await listed('status=quarantine')).toEqual(['ZZ-003']);
    expect((await listed('sort=animals&down=1')).slice(0, 2)).toEqual(['AL-001', 'ZZ-001']);
    expect((await listed('sort=code')).slice(0, 2)).toEqual(['AL-001', 'ZZ-001']);
    expect(await listed("q=' OR 1=1 --")).toEqual([]);
    for (const odd of ['page=0', 'page=x', 'sort=drop', 'species=x', 'status=x']) await listed(odd);
  });
});

describe('editing a culture', () => {
  it('keeps its diary and says who changed what', async () => {
    const app = await testApp();
    const { code, id, enclosureId } = makeCounted(app.db);
    const form = { code: 'NEW-1', morph: 'white', enclosureId: String(enclosureId), note: 'relabelled' };
    const answer = await app.helper.save(`/cultures/${code}/edit`, form);
    expect([answer.status, answer.headers.location]).toEqual([303, '/cultures/NEW-1']);
    expect(all(app)).toMatchObject([{ id, code: 'NEW-1', morph: 'white', note: 'relabelled' }]);
    expect(app.db.select().from(audit).get()).toMatchObject({
      personId: 'person-helper',
      action: 'edit a culture',
    });
    expect((await app.helper.get('/cultures/NEW-1')).text).toContain('140 counted, all of them');
    const other = makeCulture(app.db);
    const taken = await app.helper.post('/cultures/NEW-1/edit', { ...form, code: other.code });
    expect(taken.status).toBe(422);
  });

  it('works the estimate out anew when the enclosure is another', async () => {
    const app = await testApp();
    const { code } = makeCounted(app.db);
    const large = makeEnclosure(app.db, { lengthMm: 600, widthMm: 400 });
    const must = async () =>
      Number(/Must stay<\/dt><dd[^>]*>(\d+)/.exec((await app.helper.get(`/cultures/${code}`)).text)?.[1]);
    const before = await must();
    await app.helper.save(`/cultures/${code}/edit`, { code, enclosureId: String(large.id) });
    expect(await must()).toBeGreaterThan(before);
  });
});
