import type { Language } from '../../shared/settings/languages.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import type { PaperSize } from './paper.ts';

/** How a business wants its papers, and the moment they are printed: the same for every document. */
export interface PrintOptions {
  paper: PaperSize;
  units: UnitSystem;
  /** Of the papers' own words. */
  language: Language;
  /** BCP 47, such as `en-GB`; decides the decimal mark and the order of day and month. */
  locale: string;
  businessName: string;
  /** Day of printing in the business's time zone, `YYYY-MM-DD`. */
  printedOn: string;
  /** Instant of printing, ms UTC; equal data and options give equal files. */
  createdAt: number;
}

/** In which language and units and with which decimal mark someone reads. */
export type Reader = Pick<PrintOptions, 'units' | 'locale' | 'language'>;

export interface Printed {
  pdf: Buffer;
  /** What the person who prints must be told, such as characters that no font has. */
  warnings: string[];
}

/** The language the papers' own words are in, of the reader's region if that speaks it too. */
export function wordsLang({ language, locale }: Pick<PrintOptions, 'language' | 'locale'>): string {
  return locale === language || locale.startsWith(`${language}-`) ? locale : language;
}
