import { formatVolume, type UnitSystem } from '../../shared/settings/units.ts';
import type { RecipeSource } from '../../shared/substrate/starting-recipe.ts';

/** A volume in both measures, the house's own first: "1.2 L (1¼ qt)". */
export function bothVolumes(litres: number, units: UnitSystem, locale?: string): string {
  const [first, second] = units === 'us' ? (['us', 'metric'] as const) : (['metric', 'us'] as const);
  return `${formatVolume(litres, first, locale)} (${formatVolume(litres, second, locale)})`;
}

export const recipeWords: Record<RecipeSource, string> = {
  own: 'its own recipe',
  species: 'the layers of the species’ page',
  start: 'a recipe to begin with: common practice, no source',
};
