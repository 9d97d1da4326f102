import type { StoredEnclosure } from '../enclosures/volume.ts';
import { inchesToMillimetres, quartsToLitres } from '../settings/units.ts';

export type EnclosureShape = StoredEnclosure['shape'];
export interface EnclosureSize {
  shape: EnclosureShape;
  litres: number;
}
export type EnclosureMeasuresToMake = StoredEnclosure & { substrateDepthMm: number };

/** Litres of one unit. US liquid measure: 32 fluid ounces, 2 pints or a quarter gallon are one quart. */
const LITRES: readonly (readonly [RegExp, number])[] = [
  [/^(?:qts?|quarts?)$/, quartsToLitres(1)],
  [/^(?:gal|gals|gallons?)$/, quartsToLitres(4)],
  [/^(?:pt|pts|pints?)$/, quartsToLitres(1 / 2)],
  [/^(?:fl ?oz|oz|ounces?)$/, quartsToLitres(1 / 32)],
  [/^(?:ml|millilit(?:re|er)s?)$/, 0.001],
  [/^(?:cl)$/, 0.01],
  [/^(?:l|lt|ltr|lit(?:re|er)s?)$/, 1],
];
const AMOUNT =
  /(?<![\d.,])(\d{1,4}(?:[.,]\d{1,3})?) ?-?(fl\.? ?oz|oz|ounces?|qts?|quarts?|gals?|gallons?|pts?|pints?|ml|millilit(?:re|er)s?|cl|ltr|lt|lit(?:re|er)s?|l)\b/;
const SIDES =
  /(\d{1,4}(?:[.,]\d{1,2})?) ?[x×*] ?(\d{1,4}(?:[.,]\d{1,2})?) ?[x×*] ?(\d{1,4}(?:[.,]\d{1,2})?) ?(mm|cm|in\b|inch(?:es)?|")?/;

/** Larger ones are no enclosure for small invertebrates but a slip. */
export const MOST_LITRES = 1000;

/**
 * How much an enclosure holds, as far as its name tells: an amount with its unit (US liquid measure), or three sides.
 * Common practice, no source: a cup or pot slopes, a jar is straight and round, anything else is taken for a box.
 * null where the name tells no size.
 *
 * @example enclosureSize('6 qt tub') // { shape: 'box', litres: 5.678 }
 * @example enclosureSize('32 oz cup') // { shape: 'frustum', litres: 0.946 }
 */
export function enclosureSize(name: string): EnclosureSize | null {
  const text = name.slice(0, 120).normalize('NFKC').toLowerCase();
  const litres = litresByAmount(text) ?? litresBySides(text);
  if (litres === null || !(litres >= 0.01 && litres <= MOST_LITRES)) return null;
  return { shape: shapeByName(text, litres), litres: Math.round(litres * 1000) / 1000 };
}

/** The shape a name tells of, else a box; a tub below two litres is one of the round ones. */
export function shapeByName(name: string, litres: number): EnclosureShape {
  if (/\b(?:jar|bottle|vial|tube|cylinder)s?\b/i.test(name)) return 'cylinder';
  if (/\b(?:cup|deli|pot|beaker|bucket)s?\b/i.test(name)) return 'frustum';
  return /\btubs?\b/i.test(name) && litres < 2 ? 'frustum' : 'box';
}

/**
 * Measures for an enclosure of which only the volume is known: the usual proportions of its shape, filled with
 * substrate to half its height. To be measured; until then what it holds of substrate is half its volume or a little
 * less.
 *
 * @example measuresFor({ shape: 'box', litres: 6 }) // about 255 x 170 x 138 mm, 69 mm of substrate
 */
export function measuresFor({ shape, litres }: EnclosureSize): EnclosureMeasuresToMake {
  const mm3 = litres * 1_000_000;
  const blank = {
    shape,
    lengthMm: null,
    widthMm: null,
    diameterMm: null,
    topDiameterMm: null,
    bottomDiameterMm: null,
  };
  if (shape === 'box') {
    // Length 1.5, height 0.81 of the width.
    const width = Math.cbrt(mm3 / (1.5 * 0.81));
    return filled({ ...blank, lengthMm: round(1.5 * width), widthMm: round(width) }, 0.81 * width);
  }
  if (shape === 'cylinder') {
    // One and a half times as high as wide.
    const diameter = Math.cbrt(mm3 / ((Math.PI / 4) * 1.5));
    return filled({ ...blank, diameterMm: round(diameter) }, 1.5 * diameter);
  }
  // As high as the rim is wide, the floor three quarters of it: V = pi h (1 + 0.75 + 0.75^2) d^2 / 12.
  const top = Math.cbrt((12 * mm3) / (Math.PI * 2.3125));
  return filled({ ...blank, topDiameterMm: round(top), bottomDiameterMm: round(0.75 * top) }, top);
}

function filled(sides: Omit<StoredEnclosure, 'heightMm'>, height: number): EnclosureMeasuresToMake {
  const heightMm = round(height);
  return { ...sides, heightMm, substrateDepthMm: round(heightMm / 2) };
}

const round = (mm: number) => Math.max(1, Math.round(mm));
const number = (text: string) => Number(text.replace(',', '.'));

function litresByAmount(text: string): number | null {
  const match = AMOUNT.exec(text);
  if (!match) return null;
  const unit = match[2]!.replace('.', '');
  const factor = LITRES.find(([pattern]) => pattern.test(unit))?.[1];
  return factor === undefined ? null : number(match[1]!) * factor;
}

function litresBySides(text: string): number | null {
  const match = SIDES.exec(text);
  if (!match) return null;
  const sides = match.slice(1, 4).map((side) => number(side!));
  const unit = match[4] ?? 'cm';
  const mm = unit === 'mm' ? 1 : unit === 'cm' ? 10 : inchesToMillimetres(1);
  return sides.reduce((product, side) => product * side * mm, 1) / 1_000_000;
}
