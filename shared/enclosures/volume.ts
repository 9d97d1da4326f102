/** The inner measures of an enclosure; a frustum is a cup or tub that is wider at the top (or at the bottom). */
export type EnclosureMeasures =
  | { shape: 'box'; lengthMm: number; widthMm: number; heightMm: number }
  | { shape: 'cylinder'; diameterMm: number; heightMm: number }
  | { shape: 'frustum'; topDiameterMm: number; bottomDiameterMm: number; heightMm: number };

/** How an enclosure is stored: the measures its shape does not have are null. */
export type StoredEnclosure = {
  shape: 'box' | 'cylinder' | 'frustum';
  lengthMm: number | null;
  widthMm: number | null;
  heightMm: number;
  diameterMm: number | null;
  topDiameterMm: number | null;
  bottomDiameterMm: number | null;
};

const MM3_PER_LITRE = 1_000_000;

/**
 * The measures of a stored enclosure, with those its shape needs and no others.
 * Errors: RangeError when one that the shape needs is missing.
 *
 * @example measuresOf({ shape: 'cylinder', diameterMm: 100, heightMm: 120, ...rest }) // { shape, diameterMm, heightMm }
 */
export function measuresOf(stored: StoredEnclosure): EnclosureMeasures {
  const { shape, heightMm } = stored;
  const need = (value: number | null, what: string) => {
    if (value === null) throw new RangeError(`a ${shape} needs its ${what}`);
    return value;
  };
  if (shape === 'box') {
    const lengthMm = need(stored.lengthMm, 'length');
    return { shape, lengthMm, widthMm: need(stored.widthMm, 'width'), heightMm };
  }
  if (shape === 'cylinder') return { shape, diameterMm: need(stored.diameterMm, 'diameter'), heightMm };
  const topDiameterMm = need(stored.topDiameterMm, 'top diameter');
  return {
    shape,
    topDiameterMm,
    bottomDiameterMm: need(stored.bottomDiameterMm, 'bottom diameter'),
    heightMm,
  };
}

/**
 * How wide the enclosure is, seen from the side, at a height above its floor, in millimetres: the length of a box,
 * the diameter of the round ones. A frustum's diameter changes evenly with height.
 * Errors: RangeError when the height lies outside the enclosure.
 *
 * @example widthAtMm({ shape: 'frustum', topDiameterMm: 120, bottomDiameterMm: 80, heightMm: 100 }, 50) // 100
 */
export function widthAtMm(enclosure: EnclosureMeasures, aboveFloorMm: number): number {
  inside(enclosure, aboveFloorMm);
  if (enclosure.shape === 'box') return enclosure.lengthMm;
  if (enclosure.shape === 'cylinder') return enclosure.diameterMm;
  const { topDiameterMm, bottomDiameterMm, heightMm } = enclosure;
  return bottomDiameterMm + ((topDiameterMm - bottomDiameterMm) * aboveFloorMm) / heightMm;
}

/**
 * The volume between two heights above the floor, in litres: what one layer of substrate fills.
 * Closed forms of elementary solid geometry (Euclid, Elements XII; for the frustum
 * V = pi h (D1^2 + D1 D2 + D2^2) / 12 with the diameters of its two ends).
 * Errors: RangeError when a height lies outside the enclosure, or the upper one is below the lower one.
 *
 * @example volumeBetweenLitres({ shape: 'box', lengthMm: 300, widthMm: 200, heightMm: 150 }, 20, 70) // 3
 */
export function volumeBetweenLitres(enclosure: EnclosureMeasures, fromMm: number, toMm: number): number {
  inside(enclosure, fromMm);
  inside(enclosure, toMm);
  if (toMm < fromMm) throw new RangeError('the upper height is below the lower one');
  const heightMm = toMm - fromMm;
  if (enclosure.shape === 'box') return (enclosure.lengthMm * enclosure.widthMm * heightMm) / MM3_PER_LITRE;
  const d1 = widthAtMm(enclosure, fromMm);
  const d2 = widthAtMm(enclosure, toMm);
  return (Math.PI * heightMm * (d1 * d1 + d1 * d2 + d2 * d2)) / 12 / MM3_PER_LITRE;
}

/**
 * The volume from the floor up to a depth, in litres: the substrate when the depth is the substrate's, the whole
 * enclosure when it is left out. Errors: RangeError when the depth is negative or more than the height.
 *
 * @example volumeLitres({ shape: 'cylinder', diameterMm: 200, heightMm: 100 }) // 3.1416 (pi x 1 dm^2 x 1 dm)
 */
export function volumeLitres(enclosure: EnclosureMeasures, depthMm = enclosure.heightMm): number {
  return volumeBetweenLitres(enclosure, 0, depthMm);
}

function inside(enclosure: EnclosureMeasures, aboveFloorMm: number): void {
  if (!(aboveFloorMm >= 0 && aboveFloorMm <= enclosure.heightMm))
    throw new RangeError('a height must lie between the floor and the rim');
}
