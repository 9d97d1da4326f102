/** The columns of a species that the calculations read. */
export type SpeciesNumbers = {
  groupAdults: number;
  groupJuveniles: number;
  groupExtras: number;
  growthPerWeekMedian: number;
  growthSdLog: number;
  capacityPerLitreMedian: number;
  capacitySdLog: number;
  processSd: number;
  detectionAlpha: number;
  detectionBeta: number;
  adultAlpha: number;
  adultBeta: number;
  reserveAnimals: number;
  reserveShare: number;
  confidence: number;
};

export type LogNormal = { median: number; sdLog: number };
export type Beta = { alpha: number; beta: number };

/** What is believed of a culture before anything is counted: the `profile` of the population calculation. */
export type Profile = { growthPerWeek: LogNormal; capacity: LogNormal; processSd: number };

/** What decides how much can be spared: these keys of the surplus calculation. */
export type SurplusSettings = {
  reserve: { animals: number; shareOfCapacity: number };
  confidence: number;
  group: { adults: number; juveniles: number };
  adultShare: Beta;
};

export type SpeciesProfile = { profile: Profile; surplus: SurplusSettings; detection: Beta };

/**
 * Answers: what is believed of a culture of this species before anything is counted, given the substrate it lives in.
 * The capacity's median is the capacity per litre times the litres of substrate; its doubt (the standard deviation of
 * the logarithm) stays the same, as does everything else.
 * Units: litres of substrate; growth per week; animals.
 * Errors: RangeError when the litres are not above zero.
 * Not for a culture that is known not to live in its substrate (flies on the wing): give it litres of its own.
 *
 * @example populationProfile({ ...isopod, capacityPerLitreMedian: 20 }, 6).capacity.median // 120
 */
export function populationProfile(species: SpeciesNumbers, substrateLitres: number): Profile {
  if (!(substrateLitres > 0 && Number.isFinite(substrateLitres)))
    throw new RangeError('the litres of substrate must be above zero');
  return {
    growthPerWeek: { median: species.growthPerWeekMedian, sdLog: species.growthSdLog },
    capacity: { median: species.capacityPerLitreMedian * substrateLitres, sdLog: species.capacitySdLog },
    processSd: species.processSd,
  };
}

/**
 * Answers: what must stay in a culture of this species, how sure one must be, and what one starter group takes out.
 * The extras that go into the box for losses leave the culture too, so they count as part of the group, as animals
 * of any age.
 *
 * @example surplusSettings({ ...isopod, groupAdults: 10, groupJuveniles: 2, groupExtras: 1 }).group
 * // { adults: 10, juveniles: 3 }
 */
export function surplusSettings(species: SpeciesNumbers): SurplusSettings {
  return {
    reserve: { animals: species.reserveAnimals, shareOfCapacity: species.reserveShare },
    confidence: species.confidence,
    group: { adults: species.groupAdults, juveniles: species.groupJuveniles + species.groupExtras },
    adultShare: { alpha: species.adultAlpha, beta: species.adultBeta },
  };
}

/** All that the calculations ask of a species, for one culture with so many litres of substrate. */
export function speciesProfile(species: SpeciesNumbers, substrateLitres: number): SpeciesProfile {
  return {
    profile: populationProfile(species, substrateLitres),
    surplus: surplusSettings(species),
    detection: { alpha: species.detectionAlpha, beta: species.detectionBeta },
  };
}
