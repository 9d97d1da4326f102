import { asc, eq } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { insertPlace, orderPlaces } from '../../server/places/queries.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { audit, places } from '../../server/schema/tables.ts';
import { makeCulture } from '../support/stock.ts';
import { testApp } from '../support/test-app.ts';

/** A room with a rack of three shelves, and an empty room. */
function cellar(db: Db) {
  const room = insertPlace(db, { kind: 'room', name: 'Cellar', parentId: null });
  const attic = insertPlace(db, { kind: 'room', name: 'Attic', parentId: null });
  const rack = insertPlace(db, { kind: 'rack', name: 'Rack 1', parentId: room });
  const [top, middle, bottom] = ['Top', 'Middle', 'Bottom'].map((name) =>
    insertPlace(db, { kind: 'shelf', name, parentId: rack }),
  ) as [number, number, number];
  orderPlaces(db);
  return { room, attic, rack, top, middle, bottom };
}

const walk = (db: Db) =>
  db
    .select({ name: places.fullName })
    .from(places)
    .orderBy(asc(places.shelfOrder))
    .all()
    .map((place) => place.name);

const nameOf = (db: Db, id: number) => db.select().from(places).where(eq(places.id, id)).get();

describe('who may see and change places', () => {
  it('is anybody on the staff for the list, the owner for the rest', async () => {
    const { db, owner, helper, outsider } = await testApp();
    const { rack } = cellar(db);
    const seen = (await helper.get('/places')).text;
    expect(seen).toContain('Rack 1');
    for (const control of ['Add places', 'Change', '>Up<']) expect(seen).not.toContain(control);
    expect((await owner.get(`/places/${rack}/edit`)).status).toBe(200);
    expect((await helper.get(`/places/${rack}/edit`)).status).toBe(403);
    expect((await outsider.get('/places')).headers.location).toBe('/sign-in?next=%2Fplaces');
    const before = walk(db);
    for (const path of [
      '',
      `/${rack}/edit`,
      `/${rack}/up`,
      `/${rack}/down`,
      `/${rack}/retire`,
      `/${rack}/bring-back`,
    ]) {
      const form = { kind: 'room', names: 'Shed', name: 'Other' };
      expect((await helper.post(`/places${path}`, form)).status, path).toBe(403);
      expect((await outsider.post(`/places${path}`, form)).headers.location, path).toBe('/sign-in');
    }
    expect(walk(db)).toEqual(before);
  });

  it('says of an unknown one that it is not here', async () => {
    const { owner } = await testApp();
    for (const id of ['1', '0', 'x', '1.5']) {
      expect((await owner.get(`/places/${id}/edit`)).status, id).toBe(404);
      for (const action of ['edit', 'up', 'down', 'retire', 'bring-back'])
        expect((await owner.post(`/places/${id}/${action}`, { name: 'X' })).status, `${id} ${action}`).toBe(
          404,
        );
    }
  });
});

describe('adding places', () => {
  it('puts several at once at the end, in the order of their lines', async () => {
    const { db, owner } = await testApp();
    const { rack } = cellar(db);
    const names = 'Floor\r\n\r\n  Extra   shelf \n';
    const answer = await owner.post('/places', { kind: 'shelf', parentId: rack, names });
    expect(answer.headers.location).toBe('/places');
    expect(walk(db)).toEqual([
      'Cellar',
      'Cellar / Rack 1',
      'Cellar / Rack 1 / Top',
      'Cellar / Rack 1 / Middle',
      'Cellar / Rack 1 / Bottom',
      'Cellar / Rack 1 / Floor',
      'Cellar / Rack 1 / Extra shelf',
      'Attic',
    ]);
    expect((await owner.get('/places')).text).toContain('2 places are written down.');
  });

  it('acts once when the form is sent twice', async () => {
    const { db, owner } = await testApp();
    const form = { kind: 'room', names: 'Shed' };
    const first = await owner.post('/places', form, { formKey: 'the-same-form-key-01' });
    const second = await owner.post('/places', form, { formKey: 'the-same-form-key-01' });
    expect([first.status, second.status]).toEqual([303, 303]);
    expect(walk(db)).toEqual(['Shed']);
  });

  it('brings a wrong form back with what was typed', async () => {
    const { db, owner } = await testApp();
    const { rack, top } = cellar(db);
    const before = walk(db);
    const send = (form: Record<string, string | number>) => owner.post('/places', form);
    const nowhere = await send({ kind: 'shelf', names: 'Lost <i>shelf</i>' });
    expect(nowhere.status).toBe(422);
    expect(nowhere.text).toContain('A shelf stands in something larger: choose what.');
    expect(nowhere.text).toContain('Lost &lt;i>shelf&lt;/i>');
    expect((await send({ kind: 'room', parentId: rack, names: 'X' })).text).toContain(
      'A room stands in no other place.',
    );
    expect((await send({ kind: 'rack', parentId: top, names: 'X' })).text).toContain('something larger');
    expect((await send({ kind: 'shelf', parentId: rack, names: 'Floor\nTOP' })).text).toContain(
      '&quot;Top&quot; is there already.',
    );
    expect((await send({ kind: 'room', names: 'A\na' })).text).toContain('&quot;a&quot; is there twice.');
    expect((await send({ kind: 'room', names: ' \n ' })).text).toContain('Write at least one name.');
    expect((await send({ kind: 'shelf', parentId: 999, names: 'X' })).text).toContain(
      'Choose a place of the list.',
    );
    expect((await send({ kind: 'cupboard', names: 'X' })).text).toContain('Say what it is.');
    expect(walk(db)).toEqual(before);
  });
});

describe('moving a place', () => {
  it('changes places with its neighbour, and its shelves go along', async () => {
    const { db, owner } = await testApp();
    const { room, middle } = cellar(db);
    await owner.post(`/places/${middle}/up`);
    await owner.post(`/places/${room}/down`);
    expect(walk(db)).toEqual([
      'Attic',
      'Cellar',
      'Cellar / Rack 1',
      'Cellar / Rack 1 / Middle',
      'Cellar / Rack 1 / Top',
      'Cellar / Rack 1 / Bottom',
    ]);
  });

  it('answers htmx with the tree alone, and can be undone', async () => {
    const { db, owner } = await testApp();
    const { top } = cellar(db);
    const before = walk(db);
    const answer = await owner.post(`/places/${top}/down`, {}, { part: true });
    expect(answer.status).toBe(200);
    expect(answer.text).toContain('id="places-tree"');
    expect(answer.text).toContain('Top now comes later on the walk.');
    expect(answer.text).toContain(`action="/places/${top}/up"`);
    expect(answer.text).not.toContain('<html');
    await owner.post(`/places/${top}/up`);
    expect(walk(db)).toEqual(before);
  });

  it('stays at the end where it is last, and steps over those no longer used', async () => {
    const { db, owner } = await testApp();
    const { top, middle, bottom } = cellar(db);
    await owner.post(`/places/${bottom}/down`);
    await owner.post(`/places/${middle}/retire`);
    await owner.post(`/places/${top}/down`);
    const used = walk(db).filter((name) => !name.endsWith('Middle'));
    expect(used.slice(2, 4)).toEqual(['Cellar / Rack 1 / Bottom', 'Cellar / Rack 1 / Top']);
  });

  it('moves once when the button is pressed twice', async () => {
    const { db, owner } = await testApp();
    const { top } = cellar(db);
    for (let times = 0; times < 2; times += 1)
      await owner.post(`/places/${top}/down`, {}, { formKey: 'the-same-form-key-01' });
    expect(walk(db)[3]).toBe('Cellar / Rack 1 / Top');
  });
});

describe('renaming a place, or standing it elsewhere', () => {
  const form = async (owner: Awaited<ReturnType<typeof testApp>>['owner'], id: number) =>
    /name="version" value="([^"]+)"/.exec((await owner.get(`/places/${id}/edit`)).text)?.[1] ?? '';

  it('renames all that stands in it', async () => {
    const { db, owner } = await testApp();
    const { room } = cellar(db);
    const version = await form(owner, room);
    expect((await owner.post(`/places/${room}/edit`, { name: 'Warm room', version })).status).toBe(303);
    expect(walk(db)[2]).toBe('Warm room / Rack 1 / Top');
    expect(
      db
        .select()
        .from(audit)
        .where(eq(audit.subject, `place ${room}`))
        .all(),
    ).toHaveLength(1);
  });

  it('moves a rack to another room, shelves and all', async () => {
    const { db, owner } = await testApp();
    const { rack, attic } = cellar(db);
    const version = await form(owner, rack);
    await owner.post(`/places/${rack}/edit`, { name: 'Rack 1', parentId: attic, version });
    expect(walk(db)).toEqual([
      'Cellar',
      'Attic',
      'Attic / Rack 1',
      'Attic / Rack 1 / Top',
      'Attic / Rack 1 / Middle',
      'Attic / Rack 1 / Bottom',
    ]);
  });

  it('refuses what cannot be, and keeps what was typed', async () => {
    const { db, owner } = await testApp();
    const { rack, top, middle } = cellar(db);
    const version = await form(owner, top);
    const taken = await owner.post(`/places/${top}/edit`, { name: 'middle', parentId: rack, version });
    expect([taken.status, taken.text.includes('value="middle"')]).toEqual([422, true]);
    expect(taken.text).toContain('&quot;Middle&quot; is there already.');
    const inShelf = await owner.post(`/places/${top}/edit`, { name: 'Top', parentId: middle, version });
    expect(inShelf.text).toContain('A shelf stands in something larger');
    expect((await owner.post(`/places/${top}/edit`, { name: ' ', parentId: rack, version })).status).toBe(
      422,
    );
    expect(nameOf(db, top)?.fullName).toBe('Cellar / Rack 1 / Top');
  });

  it('notices that somebody else renamed it meanwhile', async () => {
    const { db, owner } = await testApp();
    const { room } = cellar(db);
    const version = await form(owner, room);
    await owner.post(`/places/${room}/edit`, { name: 'Warm room', version });
    const late = await owner.post(`/places/${room}/edit`, { name: 'Cold room', version });
    expect(late.status).toBe(409);
    expect(late.text).toContain('Warm room');
    expect(nameOf(db, room)?.name).toBe('Warm room');
  });
});

describe('a place that is no longer used', () => {
  it('stays while cultures stand on it or in it', async () => {
    const { db, owner } = await testApp();
    const { room, bottom } = cellar(db);
    const { code } = makeCulture(db, { placeId: bottom });
    await owner.post(`/places/${room}/retire`);
    const list = (await owner.get('/places')).text;
    expect(list).toContain('Cellar stays: 1 culture would be left without a place');
    expect(list).toContain(code);
    expect(nameOf(db, room)?.retiredAt).toBeNull();
  });

  it('goes with all that stands in it, and comes back together', async () => {
    const { db, owner } = await testApp();
    const { room, rack, top, bottom, attic } = cellar(db);
    makeCulture(db, { placeId: bottom, status: 'retired' });
    await owner.post(`/places/${top}/retire`);
    await owner.post(`/places/${room}/retire`);
    expect([room, rack, bottom, attic].map((id) => nameOf(db, id)?.retiredAt === null)).toEqual([
      false,
      false,
      false,
      true,
    ]);
    const list = (await owner.get('/places')).text;
    expect(list).toContain('No longer used');
    expect(list).toContain('Undo');
    await owner.post(`/places/${rack}/bring-back`);
    expect([room, rack, bottom].map((id) => nameOf(db, id)?.retiredAt)).toEqual([null, null, null]);
  });

  it('is not offered to stand something in', async () => {
    const { db, owner } = await testApp();
    const { attic } = cellar(db);
    await owner.post(`/places/${attic}/retire`);
    const answer = await owner.post('/places', { kind: 'rack', parentId: attic, names: 'Rack 9' });
    expect(answer.text).toContain('Choose a place of the list.');
    const again = await owner.post('/places', { kind: 'room', names: 'Attic' });
    expect(again.text).toContain('no longer used: bring it back');
  });
});

it('counts the cultures on each place and on all that stands in it', async () => {
  const { db, helper } = await testApp();
  const { top, bottom, room } = cellar(db);
  makeCulture(db, { placeId: top });
  makeCulture(db, { placeId: bottom, status: 'quarantine' });
  makeCulture(db, { placeId: bottom, status: 'retired' });
  const list = (await helper.get('/places')).text;
  expect(list).toContain(`<a href="/cultures?place=${room}">2 cultures</a>`);
  expect(list).toContain(`<a href="/cultures?place=${bottom}">1 culture</a>`);
});
