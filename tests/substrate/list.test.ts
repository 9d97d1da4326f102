import { describe, expect, it } from 'vitest';
import { volumeBetweenLitres } from '../../shared/enclosures/volume.ts';
import { quartsToLitres } from '../../shared/settings/units.ts';
import { fullOn } from '../../shared/splits/full-on.ts';
import { weekEnd } from '../../shared/splits/plan-form.ts';
import { mixList } from '../../shared/substrate/batches.ts';
import { bulkLitres, shownBulk } from '../../shared/substrate/form.ts';
import { shoppingList } from '../../shared/substrate/shopping.ts';
import { chooseRecipe, startingRecipe } from '../../shared/substrate/starting-recipe.ts';

const box = { shape: 'box', lengthMm: 200, widthMm: 100, heightMm: 90 } as const;
const soil = (depthMm: number) => ({
  name: 'soil',
  depthMm,
  parts: [{ material: 'soil', parts: 1, settling: 1 }],
});
const filling = (origin: string, enclosures: number, depthMm = 50) => ({
  enclosure: { id: 1, name: 'box', measures: box },
  layers: [soil(depthMm)],
  enclosures,
  origin,
});

describe('units of bulk (NIST Handbook 44, Appendix C; NIST SP 811, Appendix B.8)', () => {
  it.each([
    // bushel = 2150.42 cubic inches = 32 dry quarts; cubic inch = 16.387064 ml exactly
    ['dry-qt', 1.101221, 6],
    ['qt', 0.946353, 6],
    ['cu-ft', 28.316847, 6],
    ['l', 1, 12],
  ] as const)('one %s is %s litres', (unit, litres, digits) => {
    expect(bulkLitres(1, unit)).toBeCloseTo(litres, digits);
  });

  it('a dry quart is about 16 % more than a liquid one (67.200625 / 57.75)', () => {
    expect(bulkLitres(1, 'dry-qt') / quartsToLitres(1)).toBeCloseTo(67.200625 / 57.75, 8);
  });

  it('show what was typed', () => {
    for (const unit of ['l', 'qt', 'dry-qt', 'cu-ft'] as const)
      expect(shownBulk(bulkLitres(12.5, unit), unit)).toBe('12.5');
  });
});

describe('the recipe to begin with (common practice, no source)', () => {
  it('is two parts sand to one part coconut fibre, 5 cm, under 5 to 8 cm of wood chips, about a litre of it in a cup', () => {
    const [base, chips] = startingRecipe(115);
    expect(base?.depthMm).toBe(50);
    expect(base?.parts.map(({ material, parts }) => [material, parts])).toEqual([
      ['sand', 2],
      ['coconut fibre', 1],
    ]);
    expect(chips?.depthMm).toBeGreaterThanOrEqual(50);
    expect(chips?.depthMm).toBeLessThanOrEqual(80);
    const cup = { shape: 'frustum', topDiameterMm: 118, bottomDiameterMm: 92, heightMm: 115 } as const;
    const litres = volumeBetweenLitres(cup, 0, (base?.depthMm ?? 0) + (chips?.depthMm ?? 0));
    expect(litres).toBeGreaterThan(0.7);
    expect(litres).toBeLessThan(1);
  });

  it('fits into every enclosure', () => {
    for (let heightMm = 5; heightMm < 400; heightMm += 1) {
      const deep = startingRecipe(heightMm).reduce((sum, { depthMm }) => sum + depthMm, 0);
      expect(deep).toBeLessThan(heightMm);
      expect(deep).toBeGreaterThan(0);
    }
  });

  it('gives way to the species, where its layers fit, and to a recipe of its own in any case', () => {
    const about = { own: [], species: [soil(75)], heightMm: 115 };
    expect(chooseRecipe(about).from).toBe('species');
    expect(chooseRecipe({ ...about, heightMm: 60 }).from).toBe('start');
    expect(chooseRecipe({ ...about, own: [soil(200)] })).toEqual({ from: 'own', layers: [soil(200)] });
  });
});

describe('what to mix', () => {
  it('is one batch for enclosures that get the same, with the spare share on top', () => {
    const { batches, totals } = mixList([filling('A-1', 2), filling('A-2', 1), filling('B-1', 1, 20)], 0.1);
    expect(batches.map(({ enclosures, origins }) => [enclosures, origins])).toEqual([
      [3, ['A-1', 'A-2']],
      [1, ['B-1']],
    ]);
    // 200 mm x 100 mm x 50 mm is a litre, three of them; 20 mm are 0.4 litre
    expect(totals[0]?.litres).toBeCloseTo((3 + 0.4) * 1.1, 9);
  });

  it('leaves out what does not fit, and says so', () => {
    const { batches, totals } = mixList([filling('A-1', 2, 95), filling('A-2', 1)], 0);
    expect(batches[0]?.fault).toContain('95 mm high together, but the enclosure is only 90 mm');
    expect(totals).toEqual([{ material: 'soil', litres: expect.closeTo(1, 9) as number }]);
  });
});

describe('what to buy', () => {
  const shelf = [{ name: 'Sand', inHandLitres: 4, bagLitres: 12.5 }];

  it('is what is missing, in whole bags', () => {
    const [sand] = shoppingList([{ material: 'sand', litres: 30 }], shelf);
    expect(sand).toMatchObject({ missingLitres: 26, bags: 3 });
  });

  it('is no bag more where the sum is whole but for floating point', () => {
    const bag = [{ name: 'sand', inHandLitres: null, bagLitres: 0.1 }];
    expect(shoppingList([{ material: 'sand', litres: 0.1 + 0.2 }], bag)[0]?.bags).toBe(3);
  });

  it('is nothing where enough is there, and one material under two spellings', () => {
    const needs = [
      { material: 'sand', litres: 1 },
      { material: ' SAND ', litres: 2 },
    ];
    expect(shoppingList(needs, shelf)).toEqual([
      { material: 'sand', neededLitres: 3, inHandLitres: 4, missingLitres: 0, bagLitres: 12.5, bags: 0 },
    ]);
    expect(shoppingList([{ material: 'bark', litres: 2 }], shelf)[0]).toMatchObject({
      missingLitres: 2,
      bags: null,
      inHandLitres: null,
    });
  });
});

describe('the day a culture is likely full', () => {
  const about = { asOf: '2026-11-25', median: 80, capacity: 100 };
  it('lies between two weeks of the forecast', () => {
    const forecast = [{ date: '2026-12-02', median: 100 }];
    expect(fullOn({ ...about, forecast })).toBe('2026-11-29');
  });
  it('is today where it is full, and unknown where the forecast does not get there', () => {
    expect(fullOn({ ...about, median: 90, forecast: [] })).toBe('2026-11-25');
    expect(fullOn({ ...about, forecast: [{ date: '2026-12-02', median: 89.9 }] })).toBeNull();
    expect(fullOn({ ...about, capacity: 0, forecast: [] })).toBeNull();
  });
  it('is sought week by week', () => {
    expect(weekEnd('2026-11-25', 1)).toBe('2026-11-29');
    expect(weekEnd('2026-11-29', 1)).toBe('2026-11-29');
    expect(weekEnd('2026-11-30', 1)).toBe('2026-12-06');
    expect(weekEnd('2026-11-28', 7)).toBe('2026-11-28');
    expect(weekEnd('2026-11-29', 7)).toBe('2026-12-05');
  });
});
