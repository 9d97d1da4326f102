import type { MaterialLitres } from '../species/substrate.ts';

/** What stands on the shelf of a material, and the bags it is sold in; null where nobody says. */
export type OnShelf = { name: string; inHandLitres: number | null; bagLitres: number | null };

export type ToBuy = {
  material: string;
  neededLitres: number;
  /** Null where nobody has said what is there; nothing is taken off then. */
  inHandLitres: number | null;
  missingLitres: number;
  bagLitres: number | null;
  /** Whole bags that cover what is missing; null where the bags' size is not known. */
  bags: number | null;
};

/** Names of materials are the same whatever their capitals and the spaces around them. */
export const materialKey = (name: string): string => name.trim().toLocaleLowerCase('en');

/**
 * Answers: what has to be bought so that all can be mixed: what is needed less what is on the shelf, rounded up to
 * whole bags. The same material under names that differ in capitals only is one. Units: litres, loose.
 *
 * @example shoppingList([{ material: 'sand', litres: 30 }], [{ name: 'Sand', inHandLitres: 4, bagLitres: 12.5 }])
 * // 26 litres are missing: 3 bags
 */
export function shoppingList(needs: readonly MaterialLitres[], shelf: readonly OnShelf[]): ToBuy[] {
  const onShelf = new Map(shelf.map((one) => [materialKey(one.name), one]));
  const needed = new Map<string, MaterialLitres>();
  for (const { material, litres } of needs) {
    const key = materialKey(material);
    const before = needed.get(key);
    needed.set(key, {
      material: before?.material ?? material.trim(),
      litres: (before?.litres ?? 0) + litres,
    });
  }
  return [...needed]
    .map(([key, { material, litres }]) => {
      const { inHandLitres = null, bagLitres = null } = onShelf.get(key) ?? {};
      const missingLitres = Math.max(0, litres - (inHandLitres ?? 0));
      // A sum that is whole bags but for floating point is no bag more.
      const bags = bagLitres === null ? null : Math.max(0, Math.ceil(missingLitres / bagLitres - 1e-9));
      return { material, neededLitres: litres, inHandLitres, missingLitres, bagLitres, bags };
    })
    .sort((a, b) => a.material.localeCompare(b.material, 'en'));
}
