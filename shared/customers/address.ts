import { countryName } from '../settings/countries.ts';

export type Address = { street: string; postcode: string; city: string; region: string; country: string };

/**
 * Where a box goes, line by line, the country in English last; lines without words are left out.
 *
 * @example addressLines({ street: '2 Example Road', postcode: '12345', city: 'Exampletown', region: '', country: 'DE' })
 * // ['2 Example Road', '12345 Exampletown', 'Germany']
 */
export function addressLines({ street, postcode, city, region, country }: Address): string[] {
  const town = `${postcode} ${city}`.trim();
  return [...street.split('\n').map((line) => line.trim()), town, region, countryName(country)].filter(
    (line) => line !== '',
  );
}

/**
 * Why a parcel could not be addressed, or null when it could.
 *
 * @example whyNotAddressed({ street: '', postcode: '', city: 'Exampletown', region: '', country: 'DE' })
 * // 'The street is missing.'
 */
export function whyNotAddressed({ street, city }: Address): string | null {
  const missing = [...(street === '' ? ['street'] : []), ...(city === '' ? ['town'] : [])];
  if (missing.length === 0) return null;
  return `The ${missing.join(' and the ')} ${missing.length === 1 ? 'is' : 'are'} missing.`;
}
