import { describe, expect, it } from 'vitest';
import { insertSpecies, readSpecies } from '../../server/species/queries.ts';
import { type AnimalGroup, animalGroups, isParthenogenetic } from '../../shared/species/columns.ts';
import { capacityPerLitreBySize, defaultsFor } from '../../shared/species/defaults.ts';
import { starterGroup } from '../../shared/splits/starter-group.ts';
import { testApp } from '../support/test-app.ts';

const noCare = {
  enclosure: '',
  substrate: '',
  water: '',
  food: '',
  breeding: '',
  temperature: '',
  normal: '',
  'not-normal': '',
};

describe('figures a new species begins with', () => {
  it.each(animalGroups)('are taken by the database for a %s', async (group: AnimalGroup) => {
    const { db } = await testApp();
    const names = { scientificName: `Fictus ${group}`, commonName: '', animalGroup: group };
    const record = {
      ...names,
      homeEnclosureId: null,
      cautions: '',
      figures: defaultsFor(group),
      care: noCare,
    };
    const id = insertSpecies(db, record, []);
    expect(readSpecies(db, id)).toMatchObject({ ...names, ...defaultsFor(group) });
  });

  it('hold about 40, 20 and 8 animals a litre by size (common practice, no source)', () => {
    expect(capacityPerLitreBySize).toEqual({ small: 40, medium: 20, large: 8 });
    expect(defaultsFor('isopod').capacityPerLitreMedian).toBe(20);
  });

  it.each(animalGroups.filter((group) => group !== 'millipede' && group !== 'mantid'))(
    'make a group of a %s a start that is safe in 95 % of cases',
    (group) => {
      const { groupAdults, groupJuveniles, femaleShare, startMales, startFemales } = defaultsFor(group);
      const safety = starterGroup({
        animals: groupAdults + groupJuveniles,
        femaleShare,
        atLeast: { males: startMales, females: startFemales },
      });
      expect(safety.probability).toBeGreaterThan(0.95);
    },
  );

  it('give nothing away and keep back at least a group', () => {
    for (const group of animalGroups) {
      const figures = defaultsFor(group);
      expect(figures.priceMinor, group).toBe(0);
      const animals = figures.groupAdults + figures.groupJuveniles;
      expect(figures.reserveAnimals, group).toBeGreaterThanOrEqual(animals);
      expect(figures.reserveShare, group).toBe(0.5);
    }
  });

  it('know that springtails need no males', () => {
    expect(isParthenogenetic(defaultsFor('springtail'))).toBe(true);
    expect(isParthenogenetic(defaultsFor('isopod'))).toBe(false);
  });
});
