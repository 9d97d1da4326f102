export type PlaceInTree = { id: number; parentId: number | null; name: string; shelfOrder: string };
export type Placed = { id: number; fullName: string; shelfOrder: string };

/** Between the names of a place and what it stands in. */
const joint = ' / ';

/**
 * Answers: in which order one walks past all places, and how each is called in full. Siblings keep the order of the
 * texts they bear now (a new one bears none and comes last); every place comes before what stands in it. The texts
 * sort as they are, so the database can order by them, and a place's text begins those of all that stand in it.
 * Errors: RangeError when a parent is missing or one place holds more than 999 others.
 *
 * @example walkingOrder([{ id: 7, parentId: null, name: 'Cellar', shelfOrder: '' }, { id: 9, parentId: 7, name: 'Rack 1',
 * shelfOrder: '' }]) // Cellar '001', Cellar / Rack 1 '001.001'
 */
export function walkingOrder(places: readonly PlaceInTree[]): Placed[] {
  const childrenOf = new Map<number | null, PlaceInTree[]>();
  for (const place of places) {
    const siblings = childrenOf.get(place.parentId);
    if (siblings) siblings.push(place);
    else childrenOf.set(place.parentId, [place]);
  }
  const placed: Placed[] = [];
  const walk = (parentId: number | null, above: { name: string; order: string } | null) => {
    const siblings = [...(childrenOf.get(parentId) ?? [])].sort(bySibling);
    if (siblings.length > 999) throw new RangeError('a place can hold 999 others at most');
    for (const [i, place] of siblings.entries()) {
      const number = String(i + 1).padStart(3, '0');
      const here = {
        name: above ? `${above.name}${joint}${place.name}` : place.name,
        order: above ? `${above.order}.${number}` : number,
      };
      placed.push({ id: place.id, fullName: here.name, shelfOrder: here.order });
      walk(place.id, here);
    }
  };
  walk(null, null);
  if (placed.length !== places.length) throw new RangeError('a place stands in one that is not there');
  return placed;
}

/** Plain code-unit order, as SQLite compares; without a text last, in the order they were made. */
function bySibling(a: PlaceInTree, b: PlaceInTree): number {
  if (a.shelfOrder === b.shelfOrder) return a.id - b.id;
  if (a.shelfOrder === '' || b.shelfOrder === '') return a.shelfOrder === '' ? 1 : -1;
  return a.shelfOrder < b.shelfOrder ? -1 : 1;
}
