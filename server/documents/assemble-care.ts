import { measuresOf } from '../../shared/enclosures/volume.ts';
import { CalculationError } from '../../shared/faults.ts';
import type { Language } from '../../shared/settings/languages.ts';
import { exactLength } from '../../shared/settings/units.ts';
import { termsOf } from '../../shared/species/care-form.ts';
import { substrateMix } from '../../shared/species/substrate.ts';
import type { CareBatch, CareSheetData } from '../../views/documents/care-sheet-data.ts';
import { tradeWord } from '../../views/words/trade.ts';
import { readEnclosure } from '../enclosures/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readBusiness } from '../settings/queries.ts';
import { readLayers, readSpecies } from '../species/queries.ts';
import { type CareInLanguage, careIn } from '../species/queries-care.ts';

/** A sheet, or what is missing for one, in words that say how to mend it. */
export type Assembled = { sheet: CareSheetData; versionId: number | null } | { why: string };

/** Cautions are written one to a line. */
export const cautionsOf = (text: string): string[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');

/** What nobody translated, but what everybody calls the same: the enclosures, materials and animals of the starter set. */
function withTradeWords(care: CareInLanguage, language: Language, needed: readonly string[]): CareInLanguage {
  const terms = { ...care.terms };
  for (const english of needed) {
    const known = tradeWord(language, english);
    if (known !== undefined) terms[english] ??= known;
  }
  const name = care.inEnglish.includes('name') ? tradeWord(language, care.commonName) : undefined;
  if (name === undefined) return { ...care, terms };
  return { ...care, terms, commonName: name, inEnglish: care.inEnglish.filter((part) => part !== 'name') };
}

/** All that stands on a species' care sheet; the batch says which animals it goes with. */
export function careSheetOf(
  db: Db,
  speciesId: number,
  { batch, language, words }: { batch: CareBatch | null; language: Language; words?: CareInLanguage },
): Assembled {
  const species = readSpecies(db, speciesId);
  if (!species) return { why: `There is no species ${speciesId}.` };
  const name = species.scientificName;
  const enclosure = species.homeEnclosureId === null ? undefined : readEnclosure(db, species.homeEnclosureId);
  if (!enclosure)
    return { why: `${name} has no care sheet: choose its enclosure at the customer's on its page first.` };
  const layers = readLayers(db, speciesId);
  if (layers.length === 0)
    return { why: `${name} has no care sheet: write down the layers of its substrate on its page first.` };
  const measures = measuresOf(enclosure);
  try {
    const { units, locale } = readBusiness(db);
    const say = (lengthMm: number) => exactLength(lengthMm, units, locale);
    const mix = substrateMix({ enclosure: measures, layers, enclosures: 1, spare: 0 }, say);
    const written = words ?? careIn(db, species, language);
    const care = withTradeWords(written, language, termsOf(enclosure, layers));
    const sheet: CareSheetData = {
      language,
      inEnglish: care.inEnglish,
      terms: care.terms,
      scientificName: name,
      commonName: care.commonName,
      enclosure: {
        name: enclosure.name,
        measures,
        layers: layers.map(({ name: layer, depthMm }) => ({ name: layer, depthMm })),
        freeHeadMm: mix.freeHeadMm,
        ventilation: enclosure.ventilation,
        moistSide: 'left',
      },
      recipe: mix.layers,
      text: care.text,
      cautions: cautionsOf(care.cautions),
      limits: species,
      batch,
    };
    return { sheet, versionId: care.versionId };
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    return { why: `${name} has no care sheet: its layers ${error.message}.` };
  }
}
