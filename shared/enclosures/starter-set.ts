import type { StoredEnclosure } from './volume.ts';

export type StarterEnclosure = StoredEnclosure & {
  name: string;
  substrateDepthMm: number;
  ventilation: string;
};

const blank = {
  lengthMm: null,
  widthMm: null,
  diameterMm: null,
  topDiameterMm: null,
  bottomDiameterMm: null,
};

/**
 * Enclosures a fresh installation can begin with: everyday sizes under plain names, inside measures.
 * Common practice, no source; every box on a shelf differs, so measure your own.
 */
export const starterEnclosures: readonly StarterEnclosure[] = [
  {
    ...blank,
    name: '1 litre tub',
    shape: 'frustum',
    topDiameterMm: 118,
    bottomDiameterMm: 92,
    heightMm: 115,
    substrateDepthMm: 50,
    ventilation: 'A dozen pin holes in the lid.',
  },
  {
    ...blank,
    name: '1 litre jar',
    shape: 'cylinder',
    diameterMm: 95,
    heightMm: 145,
    substrateDepthMm: 30,
    ventilation: 'Fine fabric or foam over the whole mouth, tight enough for flies and mites.',
  },
  {
    ...blank,
    name: '6 litre box',
    shape: 'box',
    lengthMm: 290,
    widthMm: 190,
    heightMm: 110,
    substrateDepthMm: 65,
    ventilation: 'Two mesh-covered holes on opposite sides, one low and one high.',
  },
  {
    ...blank,
    name: '12 litre box',
    shape: 'box',
    lengthMm: 350,
    widthMm: 245,
    heightMm: 140,
    substrateDepthMm: 90,
    ventilation: 'Two mesh-covered holes on opposite sides, one low and one high.',
  },
  {
    ...blank,
    name: '45 litre box',
    shape: 'box',
    lengthMm: 500,
    widthMm: 340,
    heightMm: 265,
    substrateDepthMm: 40,
    ventilation: 'A mesh window in the lid; a smooth band under the rim keeps climbers in.',
  },
];
