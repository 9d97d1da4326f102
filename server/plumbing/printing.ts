import { type Language, localeFor } from '../../shared/settings/languages.ts';
import type { PrintOptions } from '../../views/documents/print-options.ts';
import type { Business, StaffCall } from './call.ts';

/** For whom papers are printed, and when. */
export type Printing = Pick<StaffCall, 'business' | 'today' | 'clock'>;

/** Whoever reads a paper: in which language, and where. */
export type PaperReader = Pick<Business, 'units' | 'paper'> & { language: Language; country: string };

/** How papers for staff are printed: in English, as the business reads. */
export function printOptions(call: Printing, reader: Pick<Business, 'units' | 'paper'>): PrintOptions {
  return {
    paper: reader.paper,
    units: reader.units,
    language: 'en',
    locale: call.business.locale,
    businessName: call.business.name,
    printedOn: call.today,
    createdAt: call.clock.now(),
  };
}

/** How papers for a customer are printed. */
export function printOptionsFor(call: Printing, reader: PaperReader): PrintOptions {
  const { language, country } = reader;
  const locale = localeFor(language, country, call.business.locale);
  return { ...printOptions(call, reader), language, locale };
}

/** Whether a phone on the bench could open that address. */
export const isOnlyHere = (address: string) => /^https?:\/\/(localhost|127\.|\[::1\])/.test(address);
