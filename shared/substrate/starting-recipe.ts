import type { SubstrateLayer } from '../species/columns.ts';

const usualBaseMm = 50;
const mostChipsMm = 80;
/** Room under the lid for air and for whoever opens it. */
const headMm = 15;

/**
 * Answers: a recipe to begin with where nobody has written one down: a base of about two parts sand to one part coconut
 * fibre, 5 cm deep, under 5 to 8 cm of wood chips, as in a cup of about a litre. Common practice, no source; the owner's
 * to change. Lower enclosures keep the halves and a head of 15 % of their height. Nothing is said of settling: a recipe
 * is corrected by whoever mixes it.
 *
 * @param heightMm inside height of the enclosure
 * @example startingRecipe(115).map((layer) => layer.depthMm) // [50, 50], 15 mm free
 * @example startingRecipe(60).map((layer) => layer.depthMm) // [25, 25], 10 mm free
 */
export function startingRecipe(heightMm: number): SubstrateLayer[] {
  const isLow = heightMm < usualBaseMm * 2 + headMm;
  const half = Math.max(1, Math.floor((heightMm * 0.85) / 2));
  const baseMm = isLow ? half : usualBaseMm;
  const chipsMm = isLow ? half : Math.min(mostChipsMm, heightMm - usualBaseMm - headMm);
  return [
    {
      name: 'Base',
      depthMm: baseMm,
      parts: [
        { material: 'sand', parts: 2, settling: 1 },
        { material: 'coconut fibre', parts: 1, settling: 1 },
      ],
    },
    { name: 'Wood chips', depthMm: chipsMm, parts: [{ material: 'wood chips', parts: 1, settling: 1 }] },
  ];
}

const recipeSources = ['own', 'species', 'start'] as const;
/** Written for the species in this enclosure, the layers of the species' page, or the recipe to begin with. */
export type RecipeSource = (typeof recipeSources)[number];

const depthOf = (layers: readonly SubstrateLayer[]) => layers.reduce((sum, { depthMm }) => sum + depthMm, 0);

/**
 * Answers: which recipe is mixed for a species in an enclosure. One of its own goes first, even where it does not fit,
 * so that the fault is seen; the species' layers are taken where they fit; else the recipe to begin with.
 *
 * @example chooseRecipe({ own: [], species: layersOf75mm, heightMm: 60 }).from // 'start': 75 mm do not fit
 */
export function chooseRecipe(about: {
  own: readonly SubstrateLayer[];
  species: readonly SubstrateLayer[];
  heightMm: number;
}): { from: RecipeSource; layers: SubstrateLayer[] } {
  const { own, species, heightMm } = about;
  if (own.length > 0) return { from: 'own', layers: [...own] };
  if (species.length > 0 && depthOf(species) <= heightMm) return { from: 'species', layers: [...species] };
  return { from: 'start', layers: startingRecipe(heightMm) };
}
