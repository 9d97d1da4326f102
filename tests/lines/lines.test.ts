import { eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { insertLine } from '../../server/lines/queries.ts';
import { audit, lines } from '../../server/schema/tables.ts';
import { makeCulture, makeSpecies } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

const old = { name: 'Old quarry', locality: 'under limestone', note: 'spring founders' };

async function withLine() {
  const tested = await testApp();
  const species = makeSpecies(tested.db, { scientificName: 'Exemplum primum' });
  const id = insertLine(tested.db, { speciesId: species.id, ...old });
  const version = async () =>
    /name="version" value="([^"]+)"/.exec((await tested.owner.get(`/lines/${id}/edit`)).text)?.[1] ?? '';
  return { ...tested, species, id, version };
}

describe('who may see and change lines', () => {
  it('is anybody on the staff for the list, the owner for the rest', async () => {
    const { owner, helper, outsider, id, db } = await withLine();
    const seen = await helper.get('/lines');
    expect(seen.text).toContain('Old quarry');
    expect(seen.text).not.toContain('New line');
    for (const path of ['/lines/new', `/lines/${id}/edit`]) {
      expect((await owner.get(path)).status, path).toBe(200);
      expect((await helper.get(path)).status, path).toBe(403);
      expect((await outsider.get(path)).headers.location, path).toContain('/sign-in?next=');
    }
    for (const path of ['/lines', `/lines/${id}/edit`]) {
      expect((await helper.post(path, old)).status, path).toBe(403);
      expect((await outsider.post(path, old)).headers.location, path).toBe('/sign-in');
    }
    expect(db.select().from(lines).all()).toHaveLength(1);
  });

  it('says of an unknown one that it is not here', async () => {
    const { owner } = await testApp();
    for (const id of ['1', '0', 'abc']) {
      expect((await owner.get(`/lines/${id}/edit`)).status, id).toBe(404);
      expect((await owner.post(`/lines/${id}/edit`, old)).status, id).toBe(404);
      expect((await owner.get(`/lines?species=${id}`)).status, id).toBe(404);
    }
  });
});

describe('the list of lines', () => {
  it('counts the cultures that are kept, for one species or all', async () => {
    const { db, owner, species, id } = await withLine();
    const other = makeSpecies(db, { scientificName: 'Exemplum alterum' });
    insertLine(db, { speciesId: other.id, name: 'Second', locality: '', note: '' });
    makeCulture(db, { speciesId: species.id, lineId: id });
    makeCulture(db, { speciesId: species.id, lineId: id, status: 'retired' });
    const all = (await owner.get('/lines')).text;
    expect(all).toContain('2 lines');
    expect(all).toContain('Second');
    const one = (await owner.get(`/lines?species=${species.id}`)).text;
    expect(one).toContain('1 line<');
    expect(one).not.toContain('Second');
    expect(/data-label="Cultures"[^>]*>(\d+)</.exec(one)?.[1]).toBe('1');
  });

  it('says what to do when there is nothing', async () => {
    const { db, owner } = await testApp();
    expect((await owner.get('/lines')).text).toContain('Lines belong to a species');
    makeSpecies(db);
    expect((await owner.get('/lines')).text).toContain('Write down the first line');
  });
});

describe('writing a line down', () => {
  it('keeps it and says who wrote it, once', async () => {
    const { db, owner, species } = await withLine();
    const form = { speciesId: species.id, name: 'New wood', locality: '', note: 'two\r\nlines' };
    for (let times = 0; times < 2; times += 1) {
      const answer = await owner.post('/lines', form, { formKey: 'the-same-form-key-01' });
      expect(answer.headers.location).toBe(`/lines?species=${species.id}`);
    }
    const [, made, none] = db.select().from(lines).all();
    expect(made).toMatchObject({ ...form, note: 'two\nlines' });
    expect(none).toBeUndefined();
    expect(
      db
        .select()
        .from(audit)
        .where(eq(audit.subject, `line ${made?.id}`))
        .all(),
    ).toHaveLength(1);
  });

  it('brings a wrong form back with what was typed', async () => {
    const { db, owner, species } = await withLine();
    const empty = await owner.post('/lines', { speciesId: '', name: '', locality: 'by the <river>' });
    expect(empty.status).toBe(422);
    expect(empty.text).toContain('Give the line a name.');
    expect(empty.text).toContain('Fill this in.');
    expect(empty.text).toContain('by the &lt;river>');
    const taken = await owner.post('/lines', { speciesId: species.id, name: 'OLD QUARRY' });
    expect(taken.text).toContain('This species has a line with this name already.');
    expect(taken.text).toContain('value="OLD QUARRY"');
    const unknown = await owner.post('/lines', { speciesId: 999, name: 'Lost' });
    expect(unknown.text).toContain('Choose a species of the list.');
    expect(db.select().from(lines).all()).toHaveLength(1);
  });
});

describe('changing a line', () => {
  it('saves, and notices that somebody else saved meanwhile', async () => {
    const { db, owner, species, id, version } = await withLine();
    const read = await version();
    const form = { speciesId: species.id, ...old };
    const first = await owner.post(`/lines/${id}/edit`, { ...form, locality: 'north side', version: read });
    expect(first.status).toBe(303);
    const late = await owner.post(`/lines/${id}/edit`, { ...form, locality: 'south side', version: read });
    expect(late.status).toBe(409);
    expect(late.text).toContain('north side');
    expect(late.text).toContain('value="south side"');
    expect(db.select().from(lines).get()?.locality).toBe('north side');
  });

  it('leaves a line with cultures at its species', async () => {
    const { db, owner, species, id, version } = await withLine();
    const other = makeSpecies(db);
    makeCulture(db, { speciesId: species.id, lineId: id, status: 'retired' });
    expect((await owner.get(`/lines/${id}/edit`)).text).toContain('its cultures keep it there');
    await owner.post(`/lines/${id}/edit`, {
      ...old,
      name: 'Renamed',
      speciesId: other.id,
      version: await version(),
    });
    expect(db.select().from(lines).get()).toMatchObject({ name: 'Renamed', speciesId: species.id });
  });

  it('moves one without cultures', async () => {
    const { db, owner, id, version } = await withLine();
    const other = makeSpecies(db);
    await owner.post(`/lines/${id}/edit`, { ...old, speciesId: other.id, version: await version() });
    expect(db.select().from(lines).get()?.speciesId).toBe(other.id);
  });
});
