import type { PlaceKind } from '../places/form.ts';
import { lacksRoom, type PlaceStep, placeSteps, stepsUnder } from './place-steps.ts';

export interface StoredPlace {
  id: number;
  parentId: number | null;
  name: string;
  kind: PlaceKind;
}

export interface PlacePlan {
  path: string[];
  /** How many cultures and moves name it. */
  uses: number;
  /** The place that is there, or the one in which the steps are made; null for the building. */
  inId: number | null;
  /** What is to be made, from the outside in; nothing where the place is there. */
  steps: PlaceStep[];
}

/** The room for places that name none, until the person says another. */
const USUAL_ROOM = 'Breeding room';

/** The text by which a place of a file is looked up in its plan. */
export function placeKey(path: readonly string[]): string {
  return JSON.stringify(path.map((name) => name.toLowerCase()));
}

/**
 * Where each place of a file is among those of the records, or what must be made of it. A place is found by all its
 * names from the outside in, or by its last ones where only one place bears them.
 *
 * @example planPlaces([['Rack 1', '4']], [], undefined).places[0].steps // room, rack, shelf
 */
export function planPlaces(
  paths: readonly (readonly string[])[],
  stored: readonly StoredPlace[],
  chosenRoom: string | undefined,
): { places: PlacePlan[]; room: string | null } {
  const index = indexPlaces(stored);
  const room = chosenRoom ?? USUAL_ROOM;
  const plans = new Map<string, PlacePlan>();
  let usesRoom = false;
  for (const path of paths) {
    if (path.length === 0) continue;
    const key = placeKey(path);
    const plan = plans.get(key);
    if (plan) plan.uses += 1;
    else {
      const { inId, steps, inRoom } = planOne(path, index, room);
      usesRoom ||= inRoom;
      plans.set(key, { path: [...path], uses: 1, inId, steps });
    }
  }
  // As one walks past them: shelf 2 before shelf 10.
  const places = [...plans.values()].sort((a, b) => byNumber.compare(a.path.join(' / '), b.path.join(' / ')));
  return { places, room: usesRoom ? room : null };
}

const byNumber = new Intl.Collator('en', { numeric: true });

interface PlaceIndex {
  byId: Map<number, StoredPlace>;
  /** By the names from the outside in. */
  whole: Map<string, number>;
  /** By the last names, the last one, the last two ...; null where several places end so. */
  ends: Map<string, number | null>;
}

function indexPlaces(stored: readonly StoredPlace[]): PlaceIndex {
  const byId = new Map(stored.map((place) => [place.id, place]));
  const index: PlaceIndex = { byId, whole: new Map(), ends: new Map() };
  for (const place of stored) {
    const names: string[] = [];
    for (
      let at: StoredPlace | undefined = place;
      at;
      at = at.parentId === null ? undefined : byId.get(at.parentId)
    ) {
      names.unshift(at.name);
      const key = placeKey(names);
      index.ends.set(key, index.ends.has(key) ? null : place.id);
    }
    index.whole.set(placeKey(names), place.id);
  }
  return index;
}

function planOne(path: readonly string[], index: PlaceIndex, room: string) {
  for (let known = path.length; known > 0; known -= 1) {
    const key = placeKey(path.slice(0, known));
    const inId = index.whole.get(key) ?? index.ends.get(key) ?? null;
    if (inId === null) continue;
    const steps = stepsUnder(index.byId.get(inId)!.kind, path.slice(known));
    return { inId, steps, inRoom: false };
  }
  const steps = placeSteps(path, room);
  const there = index.whole.get(placeKey([steps[0]!.name])) ?? null;
  return { inId: there, steps: there === null ? steps : steps.slice(1), inRoom: lacksRoom(path) };
}
