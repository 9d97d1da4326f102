import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import { speciesKeys } from '../../shared/records/culture-book.ts';
import { enclosureSize, measuresFor } from '../../shared/records/enclosure-size.ts';
import type { CultureRow, DiaryRow } from '../../shared/records/entries.ts';
import { planPlaces } from '../../shared/records/place-plan.ts';
import { placeSteps, stepsUnder } from '../../shared/records/place-steps.ts';
import { doubted, sharesThatShowed } from '../../shared/records/share-that-shows.ts';
import { guessGroup, meantSpecies, starterNamed } from '../../shared/records/species-guess.ts';
import type { StockChoices } from '../../shared/records/stock-choices.ts';
import { planStock, type Stock } from '../../shared/records/stock-plan.ts';

const culture = (more: Partial<CultureRow>): CultureRow => ({
  line: 2,
  code: 'A-1',
  species: 'Porcellio laevis',
  commonName: null,
  morph: '',
  lineName: null,
  enclosure: '6 qt tub',
  place: [],
  foundedOn: '2025-01-01',
  origin: 'wild',
  parents: [],
  foundingAnimals: 20,
  foundingSdLog: 0.02,
  status: 'active',
  endedOn: null,
  note: '',
  prints: { content: '', source: '' },
  ...more,
});
const nothing: Stock = { species: [], enclosures: [], places: [], lines: [] };

function planOf(
  cultures: Partial<CultureRow>[],
  stock: Partial<Stock> = {},
  choices: StockChoices = {},
  diary: DiaryRow[] = [],
) {
  const whole = { ...nothing, ...stock };
  const keys = speciesKeys([
    ...(choices.species ?? []).flatMap(({ name, is }) => (is ? [[is, name]] : [])),
    ...whole.species.map((one) => [one.scientificName, one.commonName]),
  ]);
  return planStock({ cultures: cultures.map(culture), diary }, whole, choices, keys);
}

describe('the size of an enclosure by its name', () => {
  // US liquid measure: NIST Handbook 44, Appendix C: 1 quart = 0.946352946 L, 1 gallon = 4 quarts, 1 pint = 1/2 quart,
  // 1 fluid ounce = 1/32 quart.
  it.each([
    ['6 qt tub', 'box', 5.678],
    ['12 qt tub', 'box', 11.356],
    ['32 oz cup', 'frustum', 0.946],
    ['16 oz cup', 'frustum', 0.473],
    ['deli 8oz', 'frustum', 0.237],
    ['5 gallon tank', 'box', 18.927],
    ['1 pint jar', 'cylinder', 0.473],
    ['32-oz deli', 'frustum', 0.946],
    ['6L box', 'box', 6],
    ['4,5 Liter', 'box', 4.5],
    ['750 ml tub', 'frustum', 0.75],
    ['30x20x15 cm', 'box', 9],
    ['300 x 200 x 150 mm box', 'box', 9],
    // 12 x 8 x 6 in: 576 cubic inches of 16.387064 ml (NIST Handbook 44, Appendix C).
    ['12x8x6 in', 'box', 9.439],
  ])('%s is a %s of %f litres', (name, shape, litres) => {
    const size = enclosureSize(name);
    expect(size?.shape).toBe(shape);
    expect(size?.litres).toBeCloseTo(litres, 2);
  });

  it('is not guessed where the name tells none, or none that can be', () => {
    for (const name of ['big tub', 'Box 12', '', '0 qt', '91500 qt', 'tub #6'])
      expect(enclosureSize(name), name).toBeNull();
  });

  it('becomes measures that hold so much, half filled', () => {
    const shapes = fc.constantFrom('box' as const, 'cylinder' as const, 'frustum' as const);
    fc.assert(
      fc.property(shapes, fc.double({ min: 0.1, max: 200, noNaN: true }), (shape, litres) => {
        const made = measuresFor({ shape, litres });
        const measures = measuresOf(made);
        // Rounded to whole millimetres: within some percent for the smallest.
        expect(volumeLitres(measures) / litres).toBeGreaterThan(0.95);
        expect(volumeLitres(measures) / litres).toBeLessThan(1.05);
        const filled = volumeLitres(measures, made.substrateDepthMm) / volumeLitres(measures);
        expect(filled).toBeGreaterThan(0.4);
        expect(filled).toBeLessThan(0.53);
      }),
    );
  });
});

describe('places', () => {
  const kinds = (path: string[]) => placeSteps(path, 'R').map(({ kind, name }) => `${kind} ${name}`);

  it('are what their words say, each smaller than the one it stands in', () => {
    expect(kinds(['Rack 1', '4'])).toEqual(['room R', 'rack Rack 1', 'shelf 4']);
    expect(kinds(['Closet', '5'])).toEqual(['room R', 'rack Closet', 'shelf 5']);
    expect(kinds(['Cellar', 'Rack 1', '4', 'left'])).toEqual([
      'room Cellar',
      'rack Rack 1',
      'shelf 4',
      'position left',
    ]);
    expect(kinds(['Upstairs'])).toEqual(['room Upstairs']);
    expect(kinds(['A3'])).toEqual(['room R', 'shelf A3']);
    expect(kinds(['Shelf 2', 'Rack 9'])).toEqual(['room R', 'shelf Shelf 2', 'position Rack 9']);
    expect(kinds(['Cellar', '3'])).toEqual(['room Cellar', 'shelf 3']);
    expect(kinds([])).toEqual([]);
  });

  it('have no more than four steps, however many parts they have', () => {
    expect(kinds(['Cellar', 'Rack 1', '4', 'b', 'c'])).toEqual([
      'room Cellar',
      'rack Rack 1',
      'shelf 4',
      'position b c',
    ]);
    expect(stepsUnder('position', ['x'])).toEqual([]);
  });

  const stored = [
    { id: 1, parentId: null, name: 'Cellar', kind: 'room' as const },
    { id: 2, parentId: 1, name: 'Rack 1', kind: 'rack' as const },
    { id: 3, parentId: 2, name: '4', kind: 'shelf' as const },
    { id: 4, parentId: null, name: 'Attic', kind: 'room' as const },
    { id: 5, parentId: 4, name: 'Rack 2', kind: 'rack' as const },
    { id: 6, parentId: 5, name: '4', kind: 'shelf' as const },
  ];

  it('are found by all their names, or by their last ones where only one place bears them', () => {
    const { places, room } = planPlaces(
      [['Cellar', 'Rack 1', '4'], ['rack 2', '4'], ['4']],
      stored,
      undefined,
    );
    const byPath = Object.fromEntries(
      places.map((place) => [place.path.join('/'), [place.inId, place.steps.length]]),
    );
    expect(byPath).toEqual({ 'Cellar/Rack 1/4': [3, 0], 'rack 2/4': [6, 0], '4': [null, 2] });
    expect(room).toBe('Breeding room');
  });

  it('are made under the part of them that is there', () => {
    const { places, room } = planPlaces([['Rack 1', '7']], stored, undefined);
    expect(places[0]).toMatchObject({ inId: 2, steps: [{ name: '7', kind: 'shelf' }] });
    expect(room).toBeNull();
  });

  it('without a room go into the one that is chosen, there or new, in the order of their numbers', () => {
    const paths = [
      ['Rack 9', '10'],
      ['Rack 9', '2'],
      ['Rack 9', '2'],
    ];
    const there = planPlaces(paths, stored, 'attic');
    expect(there).toMatchObject({
      room: 'attic',
      places: [{ path: ['Rack 9', '2'], uses: 2, inId: 4 }, { inId: 4 }],
    });
    const made = planPlaces(paths, stored, 'Shed');
    expect(made.places[0]).toMatchObject({ inId: null, steps: [{ name: 'Shed', kind: 'room' }, {}, {}] });
  });
});

describe('species', () => {
  it('are known by their genus, or by a word for their group', () => {
    expect(guessGroup('Armadillidium vulgare', [])).toBe('isopod');
    expect(guessGroup('Blaptica dubia', [])).toBe('roach');
    expect(guessGroup('Exemplum novum', ['zebra isopod'])).toBe('isopod');
    expect(guessGroup('Exemplum novum', ['house pseudoscorpion'])).toBe('pseudoscorpion');
    expect(guessGroup('Exemplum novum', ['pretty'])).toBeNull();
    expect(meantSpecies('Powder blues')).toBe('Porcellionides pruinosus');
    expect(meantSpecies('Exemplum  novum')).toBe('Exemplum novum');
    expect(starterNamed('porcellio LAEVIS')?.animalGroup).toBe('isopod');
  });

  it('are found in the records, made with what is known of them, or asked for', () => {
    const plan = planOf(
      [
        { species: 'porcellio laevis' },
        { species: 'Blaptica dubia', morph: 'dubia roach' },
        { species: 'Exemplum novum' },
        { species: 'milkback' },
      ],
      { species: [{ scientificName: 'Porcellio laevis', commonName: 'milkback' }] },
    );
    expect(
      plan.species.map(({ name, is, make, cultures }) => [name, is, make?.group, make?.starter, cultures]),
    ).toEqual([
      ['porcellio laevis', 'Porcellio laevis', undefined, undefined, 2],
      ['Blaptica dubia', null, 'roach', true, 1],
      ['Exemplum novum', null, null, false, 1],
    ]);
    expect(plan.open).toEqual([
      {
        of: 'species',
        name: 'Exemplum novum',
        message: 'Say what kind of animal Exemplum novum is, or which species of yours it is.',
      },
    ]);
  });

  it('are what the person says', () => {
    const stock = { species: [{ scientificName: 'Porcellio scaber', commonName: '' }] };
    const chosen = planOf([{ species: 'Exemplum novum' }, { species: 'my roughs' }], stock, {
      species: [
        { name: 'Exemplum novum', group: 'mantid' },
        { name: 'my roughs', is: 'Porcellio scaber' },
      ],
    });
    expect(chosen.open).toEqual([]);
    expect(chosen.species.map(({ is, make }) => is ?? make?.group)).toEqual(['mantid', 'Porcellio scaber']);
    // One that is not there cannot be meant.
    const gone = planOf(
      [{ species: 'my roughs' }],
      {},
      { species: [{ name: 'my roughs', is: 'Porcellio scaber' }] },
    );
    expect(gone.open).toHaveLength(1);
  });
});

describe('enclosures and lines', () => {
  it('are found, made as their names say, or asked for', () => {
    const plan = planOf(
      [
        { enclosure: '6 QT TUB' },
        { enclosure: '16 oz cup' },
        { enclosure: 'the big one' },
        { enclosure: null },
      ],
      { enclosures: ['6 qt tub'] },
    );
    expect(plan.enclosures.map(({ is, make }) => [is, make?.name, make?.size?.shape])).toEqual([
      ['6 qt tub', undefined, undefined],
      [null, '16 oz cup', 'frustum'],
      [null, 'the big one', undefined],
      [null, 'Unknown enclosure', undefined],
    ]);
    expect(plan.open.map(({ name }) => name)).toEqual(['the big one', null]);
    const said = planOf(
      [{ enclosure: 'the big one' }, { enclosure: null }, { enclosure: '6 qt tub' }],
      { enclosures: ['Box', '6 qt tub'] },
      {
        enclosures: [
          { name: 'the big one', litres: 40 },
          { name: null, is: 'box' },
          { name: '6 QT tub', litres: 5 },
        ],
      },
    );
    expect(said.open).toEqual([]);
    expect(said.enclosures.map(({ is, make }) => is ?? make?.size?.litres)).toEqual([40, 'Box', 5]);
  });

  it('keep a line of two species apart, and know those that are there', () => {
    const plan = planOf(
      [
        { lineName: 'Dusk' },
        { lineName: 'dusk' },
        { lineName: 'Dusk', species: 'Blaptica dubia' },
        { lineName: null },
      ],
      {
        species: [{ scientificName: 'Porcellio laevis', commonName: '' }],
        lines: [{ species: 'Porcellio laevis', name: 'dusk' }],
      },
    );
    expect(plan.lines.map(({ name, species, cultures, isNew }) => [name, species, cultures, isNew])).toEqual([
      ['Dusk', 'Porcellio laevis', 2, false],
      ['Dusk', 'Blaptica dubia', 1, true],
    ]);
  });

  it('count the places of moves too', () => {
    const move: DiaryRow = {
      file: 'diary',
      line: 2,
      on: '2026-01-01',
      code: 'A-1',
      by: null,
      entry: { kind: 'move', place: ['Rack 2', '1'], note: '' },
      prints: { content: '', source: '' },
    };
    expect(planOf([{ place: ['Rack 1', '1'] }], {}, {}, [move]).places).toHaveLength(2);
  });
});

describe('the share that shows', () => {
  const counted = (on: string, count: object): DiaryRow => ({
    file: 'diary',
    line: 2,
    on,
    code: 'A-1',
    by: null,
    entry: { kind: 'count', count: count as never, wording: null, note: '' },
    prints: { content: '', source: '' },
  });
  const seen = (on: string, animals: number) => counted(on, { method: 'visible', counted: animals });
  const full = (on: string, animals: number) => counted(on, { method: 'full', counted: animals });

  it('is read off full counts with sightings near them, and from no others', () => {
    const diary = [
      seen('2026-01-01', 12),
      full('2026-01-15', 60),
      seen('2026-01-20', 90),
      seen('2026-01-30', 30),
      full('2026-03-01', 0),
      seen('2026-03-02', 3),
    ];
    expect([...sharesThatShowed(diary)]).toEqual([['A-1', [0.2, 1]]]);
    expect([...sharesThatShowed([seen('2026-01-01', 5)])]).toEqual([]);
  });

  it('weighs in with what is usual, in wide doubt', () => {
    const usual = { detectionAlpha: 7, detectionBeta: 13, capacitySdLog: 0.5, growthSdLog: 0.9 };
    // (2 x 0.35 + 0.2 + 0.25) / 4 = 0.2875, of 8.
    expect(doubted(usual, [0.2, 0.25])).toEqual({
      detectionAlpha: 2.3,
      detectionBeta: 5.7,
      capacitySdLog: 1.2,
      growthSdLog: 0.9,
    });
    expect(doubted(usual, []).detectionAlpha).toBe(2.8);
    expect(doubted(usual, Array(200).fill(0)).detectionAlpha).toBe(0.16);
  });

  it('comes with the species that are made', () => {
    const plan = planOf([{ code: 'A-1' }], {}, {}, [seen('2026-01-01', 12), full('2026-01-15', 60)]);
    expect(plan.species[0]!.make!.shares).toEqual([0.2]);
  });
});
