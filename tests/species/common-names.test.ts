import { describe, expect, it } from 'vitest';
import { commonNames, scientificNameFor, scientificNamesLike } from '../../shared/species/common-names.ts';

describe('names the trade uses', () => {
  it.each([
    ['Powder oranges', 'Porcellionides pruinosus'],
    ['powder blue', 'Porcellionides pruinosus'],
    ['dairy cow isopods', 'Porcellio laevis'],
    ['Dubia Roaches', 'Blaptica dubia'],
    ['dubia', 'Blaptica dubia'],
    ['dwarf  whites', 'Trichorhina tomentosa'],
    ['House pseudoscorpion', 'Chelifer cancroides'],
  ])('%s is %s', (name, scientific) => {
    expect(scientificNameFor(name)).toBe(scientific);
  });

  it.each(['', 'isopods', 'fruit fly', 'dragon'])('%s alone says no species', (name) => {
    expect(scientificNameFor(name)).toBeNull();
  });

  it('mean one species each, whatever form they are written in', () => {
    for (const [common, scientific] of commonNames)
      expect(scientificNameFor(common.toUpperCase()), common).toBe(scientific);
  });

  it('are found by a part of them', () => {
    expect(scientificNamesLike('powder')).toEqual(['Porcellionides pruinosus']);
    expect(scientificNamesLike(' Fruit ')).toEqual(['Drosophila hydei', 'Drosophila melanogaster']);
    expect(scientificNamesLike('')).toEqual([]);
  });
});
