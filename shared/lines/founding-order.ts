import type { Lineage } from './form.ts';

/** The place of each code in the list; of a code that stands there twice, the first. */
export function placesOf(cultures: readonly { readonly code: string }[]): Map<string, number> {
  const places = new Map<string, number>();
  for (const [i, { code }] of cultures.entries()) if (!places.has(code)) places.set(code, i);
  return places;
}

/**
 * The places of the cultures in the order of their founding: by day, parents before children on one day.
 * Cultures that descend from themselves, and their descendants, are left out; codes unknown here are passed
 * over.
 *
 * @example a culture founded on 2026-01-05 from the second in the list, itself founded that day: [1, 0]
 */
export function foundingOrder(cultures: Lineage['cultures']): number[] {
  const places = placesOf(cultures);
  const children: number[][] = cultures.map(() => []);
  const open = cultures.map(() => 0);
  for (const [i, { parents }] of cultures.entries()) {
    for (const parent of parents) {
      const place = places.get(parent.code);
      if (place === undefined) continue;
      children[place]!.push(i);
      open[i]! += 1;
    }
  }
  const order = cultures.flatMap((_, i) => (open[i] === 0 ? [i] : []));
  // Grows while it is walked: a child is ready when its last parent has been passed.
  for (const parent of order) {
    for (const child of children[parent]!) {
      open[child]! -= 1;
      if (open[child] === 0) order.push(child);
    }
  }
  // The sort is stable: where days are equal, parents stay before their children.
  return order.sort((a, b) => compareText(cultures[a]!.foundedOn, cultures[b]!.foundedOn));
}

/** By code points, the same on every machine; days written YYYY-MM-DD fall in order. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
