import { type BoxValues, sourceOf } from './box-form.ts';
import { conductivities, ICE_LATENT_J_PER_KG, WATER_J_PER_KG_K } from './handbook.ts';
import type { PackValues } from './pack-form.ts';

const box = {
  conductanceWPerK: null,
  conductanceLogId: null,
  priceMinor: 0,
  numberLeft: 0,
  note: 'Starting figures: put in your own measures, then measure how well it keeps warm.',
};
const foam = {
  conductivityWPerMK: conductivities['expanded polystyrene'].value,
  conductivitySource: sourceOf('expanded polystyrene'),
};
const board = {
  conductivityWPerMK: conductivities['corrugated board'].value,
  conductivitySource: sourceOf('corrugated board'),
};

/**
 * Boxes to begin with: usual measures, not those of any maker, with handbook conductivities. All are to be measured.
 * Sizes and weights: common practice, no source.
 */
export const startingBoxes: readonly BoxValues[] = [
  {
    ...box,
    ...board,
    name: 'Cardboard, plain',
    lengthMm: 250,
    widthMm: 180,
    heightMm: 120,
    wallMm: 4,
    emptyMassG: 150,
  },
  {
    ...box,
    ...foam,
    name: 'Foam-lined, small',
    lengthMm: 200,
    widthMm: 150,
    heightMm: 110,
    wallMm: 20,
    emptyMassG: 180,
  },
  {
    ...box,
    ...foam,
    name: 'Foam-lined, large',
    lengthMm: 300,
    widthMm: 220,
    heightMm: 180,
    wallMm: 25,
    emptyMassG: 350,
  },
];

const pack = {
  watts: null,
  hours: null,
  warmUpHours: null,
  meltingC: null,
  latentJPerKg: null,
  heatCapacityJPerKgK: null,
  startTempC: null,
  mostInBox: 1,
  priceMinor: 0,
  numberLeft: 0,
  note: 'Starting figures: put in what is printed on yours.',
};

/** Packs to begin with. Powers: common practice, no source; latent heats from handbooks, as named. */
export const startingPacks: readonly PackValues[] = [
  {
    ...pack,
    name: 'Heat pack, 40 hours',
    kind: 'heat',
    massG: 90,
    watts: 3,
    hours: 40,
    warmUpHours: 1,
    smallestBoxL: 3,
    source: 'power about 3 W in a box: common practice, no source; hours as printed on such packs',
  },
  {
    ...pack,
    name: 'Heat pack, 72 hours',
    kind: 'heat',
    massG: 130,
    watts: 3,
    hours: 72,
    warmUpHours: 2,
    smallestBoxL: 5,
    source: 'power about 3 W in a box: common practice, no source; hours as printed on such packs',
  },
  {
    ...pack,
    name: 'Gel pack, cooled to 5 °C',
    kind: 'melting',
    massG: 300,
    meltingC: 0,
    latentJPerKg: ICE_LATENT_J_PER_KG,
    heatCapacityJPerKgK: WATER_J_PER_KG_K,
    startTempC: 5,
    smallestBoxL: 3,
    source: 'as water and ice (CRC Handbook: 333.55 kJ/kg); molten when it goes in',
  },
  {
    ...pack,
    name: 'Phase-change pack, 18 °C',
    kind: 'melting',
    massG: 300,
    meltingC: 18.2,
    latentJPerKg: 236_000,
    heatCapacityJPerKgK: 2_200,
    startTempC: 20,
    smallestBoxL: 3,
    source: 'as n-hexadecane: 18.2 °C, 236 kJ/kg (handbook, from memory)',
  },
];
