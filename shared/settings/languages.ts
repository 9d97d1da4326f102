import { isNumberForm } from './regions.ts';

/** The languages of what customers see. The pages that staff work with are in English. */
export const languages = ['en', 'de', 'es'] as const;
export type Language = (typeof languages)[number];

/** English names, for the owner's pages. */
export const languageNames: Record<Language, string> = { en: 'English', de: 'German', es: 'Spanish' };

/**
 * Whether the text is the code of a language that customers can be written to in.
 *
 * @example isLanguage('de') // true
 */
export const isLanguage = (text: string): text is Language => languages.some((each) => each === text);

/**
 * The language in which most customers of a country read, as far as they can be written to in it; English elsewhere. By
 * the likely subtags of a country (Unicode CLDR).
 *
 * @example likelyLanguage('AT') // 'de'
 * @example likelyLanguage('FR') // 'en'
 */
export function likelyLanguage(country: string): Language {
  const likely = /^[A-Z]{2}$/.test(country) ? new Intl.Locale(`und-${country}`).maximize().language : 'en';
  return isLanguage(likely) ? likely : 'en';
}

/**
 * How numbers and days are written for a reader: in their language, as in their country. English follows the business
 * in countries that have no ways of their own for it.
 *
 * @example localeFor('de', 'CH', 'en-GB') // 'de-CH'
 * @example localeFor('en', 'FR', 'en-GB') // 'en-GB'
 * @example localeFor('en', 'US', 'en-GB') // 'en-US'
 */
export function localeFor(language: Language, country: string, businessLocale: string): string {
  const own = `${language}-${country}`;
  if (language !== 'en') return own;
  return isNumberForm(own) ? own : businessLocale;
}
