import { z } from 'zod';

/** A mark on a photo: tenths of a thousandth of its width and height, so that it stays where it is at any size. */
export type Tap = [x: number, y: number];

const at = z.number().int().min(0).max(10_000);
const taps = z.array(z.tuple([at, at])).max(3000);

/**
 * The taps of a form's hidden field; none where the field holds no taps.
 *
 * @example readTaps('[[5000,2500]]') // [[5000, 2500]]
 */
export function readTaps(text: unknown): Tap[] {
  if (typeof text !== 'string' || text.length > 60_000) return [];
  try {
    const read = taps.safeParse(JSON.parse(text));
    return read.success ? read.data : [];
  } catch {
    return [];
  }
}
