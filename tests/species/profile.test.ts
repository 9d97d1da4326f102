import { describe, expect, it } from 'vitest';
import { type SpeciesNumbers, speciesProfile } from '../../shared/species/profile.ts';

const isopod: SpeciesNumbers = {
  groupAdults: 10,
  groupJuveniles: 2,
  groupExtras: 1,
  growthPerWeekMedian: 0.08,
  growthSdLog: 0.5,
  capacityPerLitreMedian: 20,
  capacitySdLog: 0.4,
  processSd: 0.05,
  detectionAlpha: 6,
  detectionBeta: 14,
  adultAlpha: 8,
  adultBeta: 12,
  reserveAnimals: 24,
  reserveShare: 0.5,
  confidence: 0.9,
};

describe('what a species means for one culture', () => {
  it('scales the capacity with the litres of substrate and nothing else', () => {
    const six = speciesProfile(isopod, 6);
    expect(six.profile).toEqual({
      growthPerWeek: { median: 0.08, sdLog: 0.5 },
      capacity: { median: 120, sdLog: 0.4 },
      processSd: 0.05,
    });
    const three = speciesProfile(isopod, 3);
    expect(three.profile.capacity.median).toBe(60);
    expect(three.surplus).toEqual(six.surplus);
  });

  it('counts the extras as leaving the culture with the group', () => {
    expect(speciesProfile(isopod, 6).surplus).toEqual({
      reserve: { animals: 24, shareOfCapacity: 0.5 },
      confidence: 0.9,
      group: { adults: 10, juveniles: 3 },
      adultShare: { alpha: 8, beta: 12 },
    });
    expect(speciesProfile(isopod, 6).detection).toEqual({ alpha: 6, beta: 14 });
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('refuses %s litres', (litres) => {
    expect(() => speciesProfile(isopod, litres)).toThrow(RangeError);
  });
});
