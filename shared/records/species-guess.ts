import type { AnimalGroup } from '../species/columns.ts';
import { scientificNameFor } from '../species/common-names.ts';
import { type StarterSpecies, starterSpecies } from '../species/starter-set.ts';

// Genera of the trade by group: common knowledge of taxonomy, from memory.
const GENERA: Partial<Record<AnimalGroup, string>> = {
  isopod:
    'armadillidium armadillo cubaris porcellio porcellionides trichorhina oniscus philoscia merulanella nesodillo nagurus venezillo troglodillo hemilepistus cylisticus trachelipus ardentiella filippinodillo spherillo dryadillo atlantoscia',
  springtail: 'folsomia sinella entomobrya orchesella seira coecobrya ceratophysella lepidocyrtus tomocerus',
  pseudoscorpion: 'chelifer chernes neobisium chthonius withius dactylochelifer garypus',
  roach:
    'blaptica blaberus gromphadorhina princisia elliptorhina nauphoeta shelfordella blatta therea lucihormetica panchlora eublaberus byrsotria archimandrita gyna pycnoscelus henschoutedenia simandoa symploce periplaneta macropanesthia salganea',
  beetle:
    'pachnoda dynastes goliathus megasoma chalcosoma allomyrina trypoxylus lucanus dorcus prosopocoilus chlorocala eudicella mecynorrhina stephanorrhina dicronorhina protaetia cetonia zophobas tenebrio xylotrupes oryctes phalacrognathus cyclommatus asbolus',
  millipede:
    'chicobolus archispirostreptus narceus orthoporus anadenobolus spirostreptus telodeinopus trigoniulus tylobolus ophistreptus dendrostreptus centrobolus epibolus apheloria',
  mantid:
    'hierodula sphodromantis mantis tenodera stagmomantis phyllocrania hymenopus creobroter pseudocreobotra deroplatys gongylus miomantis idolomantis orthodera statilia parasphendale popa tamolanica blepharopsis empusa',
  fly: 'drosophila musca calliphora lucilia hermetia',
};
const WORDS: readonly (readonly [AnimalGroup, RegExp])[] = [
  ['pseudoscorpion', /pseudo-?scorpion|book ?scorpion/],
  ['springtail', /springtail|collembola/],
  ['isopod', /isopod|woodlouse|woodlice|pill ?bug|roly|sow ?bug|slater/],
  ['roach', /roach/],
  ['millipede', /millipede/],
  ['mantid', /mantis|mantid/],
  ['fly', /\bfl(?:y|ies)\b/],
  ['beetle', /beetle|chafer|mealworm|superworm/],
];
const GROUP_OF = new Map(
  Object.entries(GENERA).flatMap(([group, names]) =>
    names.split(' ').map((genus): [string, AnimalGroup] => [genus, group as AnimalGroup]),
  ),
);

/** The scientific name that is meant by a name as it is written, or the very name where it is no trade name. */
export function meantSpecies(name: string): string {
  return scientificNameFor(name) ?? name.replace(/\s+/g, ' ').trim();
}

/**
 * A morph that is written in quotes behind a whole scientific name. Behind “sp.” such a name is all that tells the
 * species, and stays with it.
 *
 * @example morphInName('Porcellio laevis "Dairy Cow"') // { species: 'Porcellio laevis', morph: 'Dairy Cow' }
 */
export function morphInName(name: string): { species: string; morph: string } | null {
  const quoted = /^(\p{Lu}\p{Ll}+ \p{Ll}{2,}(?: \p{Ll}{3,})?) ["'“”„‘’«]([^"'“”„‘’«»]{1,80})["'“”‘’»]$/u.exec(
    name.replace(/\s+/g, ' ').trim(),
  );
  const [, species = '', morph = ''] = quoted ?? [];
  return species === '' ? null : { species, morph: morph.trim() };
}

/**
 * The animal group of a species: by its genus, else by a word in what it is called. null where neither tells it.
 *
 * @example guessGroup('Armadillidium vulgare', []) // 'isopod'
 */
export function guessGroup(scientificName: string, otherNames: readonly string[]): AnimalGroup | null {
  const genus = scientificName.toLowerCase().split(/\s+/, 1)[0] ?? '';
  const known = GROUP_OF.get(genus);
  if (known) return known;
  const words = [scientificName, ...otherNames].join(' ').toLowerCase();
  return WORDS.find(([, pattern]) => pattern.test(words))?.[0] ?? null;
}

/** The species of the starter set with that name. */
export function starterNamed(scientificName: string): StarterSpecies | null {
  const name = scientificName.toLowerCase();
  return starterSpecies.find((species) => species.scientificName.toLowerCase() === name) ?? null;
}
