export type MapPlace = {
  id: number;
  parentId: number | null;
  kind: 'room' | 'rack' | 'shelf' | 'position';
  name: string;
  fullName: string;
};

/** A culture where it stands: at a position of a shelf, or just on a place. */
export type Standing<T> = { placeId: number | null; culture: T };

export type MapShelf<T> = {
  id: number;
  name: string;
  /** What stands there in walking order; a position without a culture is free. */
  spots: { position: string | null; culture: T | null }[];
};
export type MapRack<T> = { id: number; name: string; shelves: MapShelf<T>[] };

/**
 * Answers: how the racks are drawn: each with its shelves in walking order, and on each shelf what stands at its
 * positions, free ones included. A place that holds cultures but no shelves is drawn as a rack with one shelf.
 *
 * @param places all places in walking order, a place after the one it is in
 * @param standing cultures in walking order
 * @returns the racks in walking order, and the cultures that stand nowhere
 * @example rackMap([{ id: 1, parentId: null, kind: 'rack', name: 'R', fullName: 'R' },
 *   { id: 2, parentId: 1, kind: 'shelf', name: 'S', fullName: 'R / S' }], [{ placeId: 2, culture: 'A' }])
 * // { racks: [{ id: 1, name: 'R', shelves: [{ id: 2, name: 'S', spots: [{ position: null, culture: 'A' }] }] }],
 * //   nowhere: [] }
 */
export function rackMap<T>(
  places: readonly MapPlace[],
  standing: readonly Standing<T>[],
): { racks: MapRack<T>[]; nowhere: T[] } {
  const known = new Map(places.map((place) => [place.id, place]));
  const at = new Map<number, T[]>();
  const nowhere: T[] = [];
  for (const { placeId, culture } of standing) {
    if (placeId === null || !known.has(placeId)) nowhere.push(culture);
    else at.set(placeId, [...(at.get(placeId) ?? []), culture]);
  }
  const racks = new Map<number, MapRack<T>>();
  const shelves = new Map<number, MapShelf<T>>();
  const shelfFor = (place: MapPlace): MapShelf<T> => {
    const found = shelves.get(place.id);
    if (found) return found;
    // Only shelves stand in a rack; whatever else holds cultures is a rack of its own.
    const parent = place.kind === 'shelf' && place.parentId !== null ? known.get(place.parentId) : undefined;
    const owner = parent ?? place;
    const rack = racks.get(owner.id) ?? { id: owner.id, name: owner.fullName, shelves: [] };
    racks.set(owner.id, rack);
    const shelf: MapShelf<T> = { id: place.id, name: parent ? place.name : '', spots: [] };
    shelves.set(place.id, shelf);
    rack.shelves.push(shelf);
    return shelf;
  };
  for (const place of places) {
    const here = at.get(place.id) ?? [];
    if (place.kind === 'position') {
      const on = (place.parentId !== null && known.get(place.parentId)) || place;
      const spots = here.map((culture) => ({ position: place.name, culture }));
      shelfFor(on).spots.push(...(spots.length > 0 ? spots : [{ position: place.name, culture: null }]));
    } else if (place.kind === 'shelf' || here.length > 0) {
      shelfFor(place).spots.push(...here.map((culture) => ({ position: null, culture })));
    }
  }
  return { racks: [...racks.values()], nowhere };
}
