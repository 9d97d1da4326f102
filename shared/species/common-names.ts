/**
 * Names the trade uses, with the species they mean. Common practice, no source. A colour name is a morph of the same
 * species; a name that means several species is not in the list.
 */
export const commonNames: readonly (readonly [common: string, scientific: string])[] = [
  ['zebra isopod', 'Armadillidium maculatum'],
  ['zebra pill bug', 'Armadillidium maculatum'],
  ['zebra woodlouse', 'Armadillidium maculatum'],
  ['common pill bug', 'Armadillidium vulgare'],
  ['dairy cow isopod', 'Porcellio laevis'],
  ['milkback', 'Porcellio laevis'],
  ['swift woodlouse', 'Porcellio laevis'],
  ['rough woodlouse', 'Porcellio scaber'],
  ['powder blue isopod', 'Porcellionides pruinosus'],
  ['powder orange isopod', 'Porcellionides pruinosus'],
  ['powdery woodlouse', 'Porcellionides pruinosus'],
  ['dwarf white isopod', 'Trichorhina tomentosa'],
  ['tropical dwarf isopod', 'Trichorhina tomentosa'],
  ['white springtail', 'Folsomia candida'],
  ['temperate springtail', 'Folsomia candida'],
  ['dubia roach', 'Blaptica dubia'],
  ['orange-spotted roach', 'Blaptica dubia'],
  ['sun beetle', 'Pachnoda marginata'],
  ['large fruit fly', 'Drosophila hydei'],
  ['hydei', 'Drosophila hydei'],
  ['small fruit fly', 'Drosophila melanogaster'],
  ['house pseudoscorpion', 'Chelifer cancroides'],
  ['book scorpion', 'Chelifer cancroides'],
  ['ivory millipede', 'Chicobolus spinigerus'],
];

/** Lower case, without the word for the group and its plural, so that 'Powder Blues' meets 'powder blue isopod'. */
function bare(name: string): string {
  return name
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .replace(
      /\b(isopod|roach|springtail|woodlouse|pillbug|pill bug)(s|es)?\b|\bwoodlice\b|\bcockroach(es)?\b/g,
      ' ',
    )
    .replace(/(\p{L}{3,})s\b/gu, '$1')
    .replace(/\s+/g, ' ')
    .trim();
}

const byBareName = new Map(commonNames.map(([common, scientific]) => [bare(common), scientific]));

/**
 * Answers: which species somebody means by a name of the trade. Null when the name is not in the list or says nothing
 * but the group.
 *
 * @example scientificNameFor('Powder oranges') // 'Porcellionides pruinosus'
 */
export function scientificNameFor(name: string): string | null {
  const key = bare(name);
  return key === '' ? null : (byBareName.get(key) ?? null);
}

/** The species some name of which holds the words, for a search. */
export function scientificNamesLike(words: string): string[] {
  const wanted = words.trim().toLowerCase();
  if (wanted === '') return [];
  return [...new Set(commonNames.filter(([common]) => common.includes(wanted)).map(([, name]) => name))];
}
