import { usualIn } from '../../shared/settings/by-country.ts';
import { clocksOf } from '../../shared/settings/clocks.ts';
import { countryName, isCountryCode } from '../../shared/settings/countries.ts';
import { type FirstBusinessForm, firstBusinessForm } from '../../shared/settings/form.ts';
import type { Usual } from '../../views/settings/part-business-fields.tsx';
import type { Call } from '../plumbing/call.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';

export const yearOf = (call: Call): number => new Date(call.clock.now()).getUTCFullYear();

/** What a country says about what was left open; null while none is chosen. */
export function usualFor(country: string, year: number): Usual | null {
  if (!isCountryCode(country)) return null;
  return { country: countryName(country), zones: clocksOf(country, year), ...usualIn(country) };
}

type Filled = FirstBusinessForm & Required<FirstBusinessForm>;

/** Reads the business of the set-up and fills in what was left open; asks back where the country does not say it. */
export function readFirst(call: Call) {
  const read = readForm(firstBusinessForm, call.body);
  if (!read.ok) return read;
  const usual = usualFor(read.data.country, yearOf(call));
  const [zone, ...others] = usual?.zones ?? [];
  const timeZone = read.data.timeZone ?? (others.length === 0 ? zone?.value : undefined);
  const currency = read.data.currency ?? usual?.currency ?? undefined;
  const errors: Record<string, string> = {};
  if (!timeZone) errors.timeZone = askZone(usual);
  if (!currency) errors.currency = 'This country does not say it: choose the currency of your prices.';
  if (!timeZone || !currency) return { ok: false as const, form: withErrors(read.form, errors) };
  const units = read.data.units ?? usual?.units ?? 'metric';
  const paper = read.data.paper ?? usual?.paper ?? 'A4';
  const data: Filled = { ...read.data, timeZone, currency, units, paper };
  return { ok: true as const, data, form: read.form };
}

function askZone(usual: Usual | null): string {
  const count = usual?.zones.length ?? 0;
  if (!usual || count === 0) return 'This country does not say it: choose a time zone.';
  return `${usual.country}: there are ${count} times of day. Choose the town nearest to you; they stand first in the list.`;
}
