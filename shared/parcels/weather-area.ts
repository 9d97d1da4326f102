/** A country, or the postcodes of it that begin in one way. */
export interface Area {
  placeId: number;
  country: string;
  postcodeStart: string;
}

/** Letters and digits alone, in capitals: '12 345-a' and '12345A' are one postcode. */
export const plainPostcode = (text: string): string =>
  text
    .normalize('NFKC')
    .toUpperCase()
    .replace(/[^A-Z0-9]/g, '');

/**
 * Which place's weather counts for an address: of the areas that fit, the one with the longest beginning of the postcode;
 * null where none fits.
 *
 * @example areaOf([{ placeId: 1, country: 'DE', postcodeStart: '' }, { placeId: 2, country: 'DE', postcodeStart: '10' }],
 *   { country: 'DE', postcode: '10115' })?.placeId // 2
 */
export function areaOf<A extends Area>(
  areas: readonly A[],
  address: { country: string; postcode: string },
): A | null {
  const postcode = plainPostcode(address.postcode);
  let best: A | null = null;
  for (const area of areas) {
    if (area.country !== address.country || !postcode.startsWith(area.postcodeStart)) continue;
    if (!best || area.postcodeStart.length > best.postcodeStart.length) best = area;
  }
  return best;
}
