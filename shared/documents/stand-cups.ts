/** Lengths in millimetres: of a box inside, of a cup outside with its lid on. */
export interface Measures {
  lengthMm: number;
  widthMm: number;
  heightMm: number;
}

/** So many cups of one size. */
export interface CupsOfSize extends Measures {
  name: string;
  count: number;
}

/** A place in the front row of a layer, as one looks at the long side of the box. */
export interface StandingCup {
  name: string;
  xMm: number;
  /** From the floor of the box up to the cup's foot. */
  yMm: number;
  lengthMm: number;
  heightMm: number;
}

export type Standing =
  | { fits: true; layers: number; heightMm: number; freeMm: number; front: StandingCup[] }
  | { fits: false; why: 'cup too large' | 'too many cups'; name: string };

/** More cups than any parcel has; what is above is refused rather than reckoned. */
const MOST = 2_000;

interface Layer {
  yMm: number;
  heightMm: number;
  /** Where the next row begins, from the front, and how deep the one in hand is. */
  rowAt: number;
  rowDepth: number;
  /** Where the next cup of the row stands. */
  x: number;
  isFront: boolean;
}

const newLayer = (yMm: number, heightMm: number): Layer => ({
  yMm,
  heightMm,
  rowAt: 0,
  rowDepth: 0,
  x: 0,
  isFront: true,
});

/** The cup as it goes along the box, or turned by a quarter; null where it goes in neither way. */
function turned(cup: CupsOfSize, box: Measures): CupsOfSize | null {
  if (cup.heightMm > box.heightMm) return null;
  if (cup.lengthMm <= box.lengthMm && cup.widthMm <= box.widthMm) return cup;
  if (cup.widthMm <= box.lengthMm && cup.lengthMm <= box.widthMm)
    return { ...cup, lengthMm: cup.widthMm, widthMm: cup.lengthMm };
  return null;
}

/** Puts a cup into the layer, beginning a new row where the one in hand is full; false where the layer is full. */
function put(layer: Layer, cup: CupsOfSize, box: Measures, front: StandingCup[]): boolean {
  if (layer.x + cup.lengthMm > box.lengthMm) {
    layer.rowAt += layer.rowDepth;
    layer.rowDepth = 0;
    layer.x = 0;
    layer.isFront = false;
  }
  if (layer.rowAt + cup.widthMm > box.widthMm) return false;
  if (layer.isFront)
    front.push({
      name: cup.name,
      xMm: layer.x,
      yMm: layer.yMm,
      lengthMm: cup.lengthMm,
      heightMm: cup.heightMm,
    });
  layer.x += cup.lengthMm;
  layer.rowDepth = Math.max(layer.rowDepth, cup.widthMm);
  return true;
}

/**
 * How cups stand in a box, upright, in rows and layers, the tallest at the bottom: whether they go in at all, how high
 * they reach, and what stays free over them, in millimetres. Rows and layers are what a hand at a bench does; a tighter
 * fit may exist (two-dimensional packing is hard), so "too many cups" can be said of a box that would just do.
 *
 * Errors: none; measures are above zero.
 *
 * @example standCups({ lengthMm: 200, widthMm: 150, heightMm: 110 }, [{ name: 'round', lengthMm: 90, widthMm: 90,
 *   heightMm: 60, count: 2 }]) // fits, 1 layer, 60 mm high, 50 mm free; two stand in the front row
 */
export function standCups(box: Measures, cups: readonly CupsOfSize[]): Standing {
  const front: StandingCup[] = [];
  let layer: Layer | null = null;
  let layers = 0;
  const tallestFirst = cups.filter(({ count }) => count > 0).sort((a, b) => b.heightMm - a.heightMm);
  let left = MOST;
  for (const given of tallestFirst) {
    const cup = turned(given, box);
    if (!cup) return { fits: false, why: 'cup too large', name: given.name };
    for (let n = 0; n < cup.count; n += 1) {
      left -= 1;
      if (left < 0) return { fits: false, why: 'too many cups', name: cup.name };
      if (layer && put(layer, cup, box, front)) continue;
      const yMm: number = layer ? layer.yMm + layer.heightMm : 0;
      if (yMm + cup.heightMm > box.heightMm) return { fits: false, why: 'too many cups', name: cup.name };
      layer = newLayer(yMm, cup.heightMm);
      layers += 1;
      put(layer, cup, box, front);
    }
  }
  const heightMm = layer ? layer.yMm + layer.heightMm : 0;
  return { fits: true, layers, heightMm, freeMm: box.heightMm - heightMm, front };
}
