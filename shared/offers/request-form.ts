import { z } from 'zod';
import { isCountryCode } from '../settings/countries.ts';
import { tidyLine, tidyLines } from '../text.ts';

/** At most so many groups of a species in one request, and so many species. */
export const mostGroups = 20;
const mostSpecies = 30;

const requestFields = ['name', 'email', 'street', 'postcode', 'city', 'region', 'country', 'note'] as const;
export type RequestField = (typeof requestFields)[number];
export const longest: Record<RequestField, number> = {
  name: 120,
  email: 254,
  street: 300,
  postcode: 20,
  city: 120,
  region: 120,
  country: 2,
  note: 1000,
};

export const wantedField = (speciesId: number) => `groups-${speciesId}`;

/** What is wrong with a field, by what is said of it in the customer's language. */
export type RequestFault = 'name' | 'email' | 'country' | 'groups' | 'nothing' | 'tooLong';

export type OrderRequest = Record<RequestField, string> & { wanted: { speciesId: number; groups: number }[] };

/**
 * Reads a request for animals: who, where to, and how many groups of which of the species on the list. Fields of other
 * species are not looked at; what is wrong is named by field.
 *
 * @example readRequest((name) => ({ name: 'A', email: 'a@example.org', country: 'DE', 'groups-7': '2' })[name] ?? '', [7]).wanted
 * // [{ speciesId: 7, groups: 2 }]
 */
export function readRequest(
  field: (name: string) => string,
  speciesIds: readonly number[],
): { request: OrderRequest; faults: Map<string, RequestFault> } {
  const faults = new Map<string, RequestFault>();
  const read = {} as Record<RequestField, string>;
  for (const name of requestFields) {
    const given = field(name);
    const text = name === 'street' || name === 'note' ? tidyLines(given) : tidyLine(given);
    if (text.length > longest[name]) faults.set(name, 'tooLong');
    read[name] = text;
  }
  if (read.name === '') faults.set('name', 'name');
  if (!z.email().safeParse(read.email).success) faults.set('email', 'email');
  if (!isCountryCode(read.country)) faults.set('country', 'country');
  const wanted: OrderRequest['wanted'] = [];
  for (const speciesId of speciesIds) {
    const text = field(wantedField(speciesId)).trim();
    if (text === '' || text === '0') continue;
    const groups = /^\d{1,3}$/.test(text) ? Number(text) : 0;
    if (groups < 1 || groups > mostGroups) faults.set(wantedField(speciesId), 'groups');
    else wanted.push({ speciesId, groups });
  }
  const hasGroupFault = [...faults.values()].includes('groups');
  if (!hasGroupFault && (wanted.length === 0 || wanted.length > mostSpecies)) faults.set('', 'nothing');
  return { request: { ...read, wanted }, faults };
}
