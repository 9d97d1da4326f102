import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import type { Language } from '../../shared/settings/languages.ts';
import type { CareHeading, CareText, TemperatureLimits } from '../../shared/species/columns.ts';
import type { SubstrateMix } from '../../shared/species/substrate.ts';

/** One species as a beginner gets it: one page. Plain data, metric; the sheet turns it into the reader's units. */
export interface CareSheetData {
  /** In which the sheet speaks. */
  language: Language;
  scientificName: string;
  commonName: string;
  enclosure: CareEnclosure;
  /** What to mix for one enclosure (`enclosures: 1`, no spare), layers bottom up. */
  recipe: SubstrateMix['layers'];
  text: CareText;
  /** What stands in English because nobody has written it in the sheet's language yet. */
  inEnglish: ('name' | 'cautions' | CareHeading)[];
  /**
   * What the enclosure, its layers and their materials are called in the sheet's language, by their English words.
   * What is not here stands in English.
   */
  terms: Record<string, string>;
  /**
   * Cautions of this species, such as irritating hairs or keeping it from children and pets. The cautions that hold
   * for all captive invertebrates (no release, allergy, local law) are printed on every sheet and are not given here.
   */
  cautions: string[];
  limits: TemperatureLimits;
  /** Where these animals come from; null on a sheet for no batch in particular. */
  batch: CareBatch | null;
}

export interface CareEnclosure {
  /** Such as `1 litre cup`. */
  name: string;
  measures: EnclosureMeasures;
  /** Bottom up. */
  layers: { name: string; depthMm: number }[];
  freeHeadMm: number;
  /** In words, such as `holes in the lid`; empty if none is known. */
  ventilation: string;
  /** The third that is kept moist; `none` when the enclosure is moist all over. */
  moistSide: 'left' | 'right' | 'none';
}

export interface CareBatch {
  cultureCode: string;
  /** Empty if no line is kept. */
  line: string;
  /** `YYYY-MM-DD` */
  packedOn: string;
  /** Empty if the animals belong to no order. */
  orderNumber: string;
  customerName: string;
  /** Two letters of where the customer lives; decides the forms of Chinese characters. */
  country?: string;
}

/** Words of the owner's, with their language where it is not the document's. */
export interface Said {
  text: string;
  lang?: string | undefined;
}

/** A word of the drawing or the recipe in the sheet's language, else in English. */
export function termOf({ terms, language }: CareSheetData, english: string): Said {
  const known = terms[english] ?? caseless(terms, english);
  if (known !== undefined && known !== '') return { text: known };
  return { text: english, lang: language === 'en' ? undefined : 'en' };
}

/** The same word written with or without a capital, which is then put on. */
function caseless(terms: Record<string, string>, english: string): string | undefined {
  const small = english.toLowerCase();
  const key = Object.keys(terms).find((each) => each.toLowerCase() === small);
  const known = key === undefined ? undefined : terms[key];
  if (known === undefined || !/^\p{Lu}/u.test(english)) return known;
  return known.charAt(0).toUpperCase() + known.slice(1);
}

/** The language that a part of the sheet is in, where it is not the sheet's. */
export const langOfPart = (
  sheet: CareSheetData,
  part: CareSheetData['inEnglish'][number],
): string | undefined => (sheet.language !== 'en' && sheet.inEnglish.includes(part) ? 'en' : undefined);
