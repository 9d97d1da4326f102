import { expect, it } from 'vitest';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { type MapPlace, rackMap } from '../../shared/checks/rack-map.ts';
import { makeCulture, makeEstimate, makePlace, makeSpecies } from '../support/stock.ts';
import { cast, testApp, testNow, testToday } from '../support/test-app.ts';

const place = (id: number, parentId: number | null, kind: MapPlace['kind'], name: string): MapPlace => ({
  id,
  parentId,
  kind,
  name,
  fullName: `${name} of ${parentId}`,
});

it('draws shelves in their racks, positions that are free, and what stands elsewhere', () => {
  const places = [
    place(1, null, 'room', 'Cellar'),
    place(2, 1, 'rack', 'Rack'),
    place(3, 2, 'shelf', 'Top'),
    place(4, 3, 'position', '1'),
    place(5, 3, 'position', '2'),
    place(6, 2, 'shelf', 'Bottom'),
  ];
  const at = (placeId: number | null, culture: string) => ({ placeId, culture });
  const { racks, nowhere } = rackMap(places, [
    at(4, 'A'),
    at(4, 'B'),
    at(6, 'C'),
    at(1, 'D'),
    at(null, 'E'),
    at(9, 'F'),
  ]);
  const drawn = racks.map(({ id, shelves }) => [
    id,
    shelves.map(({ name, spots }) => [name, spots.map((s) => `${s.position} ${s.culture}`)]),
  ]);
  expect(drawn).toEqual([
    [1, [['', ['null D']]]],
    [
      2,
      [
        ['Top', ['1 A', '1 B', '2 null']],
        ['Bottom', ['null C']],
      ],
    ],
  ]);
  expect(nowhere).toEqual(['E', 'F']);
});

it('shows where everything stands, what it wants, and what is in trouble', async () => {
  const t = await testApp();
  expect((await t.helper.get('/round/map')).text).toContain('No racks yet.');
  const speciesId = makeSpecies(t.db, { scientificName: 'Exemplum dubium' }).id;
  const shelf = makePlace(t.db, { kind: 'shelf', name: 'Upper', fullName: 'Upper' }).id;
  const at = { speciesId, placeId: shelf };
  for (const code of ['DUE-1', 'DONE-1', 'BAD-1']) {
    const { id } = makeCulture(t.db, { ...at, code });
    makeEstimate(t.db, id, { asOf: testToday, lastCheckOn: null, lastCountOn: null });
    const entry = {
      cultureId: id,
      onDay: testToday,
      via: 'page',
      madeBy: cast.helper.id,
      madeAt: testNow,
    } as const;
    if (code === 'DONE-1') appendEntry(t.db, { ...entry, kind: 'check' });
    if (code === 'BAD-1')
      await t.helper.post(`/cultures/${code}/write`, { kind: 'quarantine', note: 'specks' });
  }
  const { text } = await t.helper.get('/round/map');
  const spot = (code: string) => new RegExp(`spot-(\\w+)"><a href="/cultures/${code}"`).exec(text)?.[1];
  expect([spot('DUE-1'), spot('BAD-1')]).toEqual(['due', 'trouble']);
  expect(text).toContain('quarantine');
  expect((await t.helper.get(`/round/map?rack=${shelf}`)).text).toContain('DUE-1');
  expect((await t.helper.get('/round/map?rack=x')).status).toBe(200);
  expect((await t.outsider.get('/round/map')).status).toBe(303);
});

it('puts what is left of the round on paper, with a box to tick and room to write', async () => {
  const t = await testApp();
  const rows = async () => {
    const { text } = await t.helper.get('/round/paper');
    return [...text.matchAll(/tick-box.*?translate="no">([^<]+)<.*?paper-want"[^>]*>([^<]+)</gs)].map(
      ([, code, want]) => [code, want],
    );
  };
  expect((await t.helper.get('/round/paper')).text).toContain('Nothing is left of');
  const speciesId = makeSpecies(t.db, { sellable: false }).id;
  const shelf = makePlace(t.db, { kind: 'shelf', name: 'Upper', fullName: 'Upper' }).id;
  for (const code of ['DUE-1', 'DUE-2']) {
    const { id } = makeCulture(t.db, { speciesId, placeId: shelf, code });
    makeEstimate(t.db, id, { asOf: testToday, lastCheckOn: null, lastCountOn: testToday });
  }
  const fed = expect.stringContaining('never');
  expect(await rows()).toEqual([
    ['DUE-1', fed],
    ['DUE-2', fed],
  ]);
  await t.helper.post('/cultures/DUE-1/all-well', { did: 'yes' });
  expect(await rows()).toEqual([['DUE-2', fed]]);
});
