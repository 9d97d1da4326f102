import { type PlaceKind, placeKinds } from '../places/form.ts';

export interface PlaceStep {
  name: string;
  kind: PlaceKind;
}

// Words as people write them (common practice, no source).
const WORDS: readonly (readonly [PlaceKind, RegExp])[] = [
  [
    'room',
    /\b(?:rooms?|cellar|basement|garage|attic|loft|shed|kitchen|office|studio|greenhouse|hall|upstairs|downstairs)\b/i,
  ],
  [
    'rack',
    /\b(?:racks?|closet|cabinet|cupboard|shelving|bookcase|wardrobe|tower|unit|stand|table|tent|trolley)\b/i,
  ],
  ['shelf', /\b(?:shelf|shelves|level|tier|row|drawer|board)\b/i],
  ['position', /\b(?:position|pos|slot|spot|place|bay|column)\b/i],
];

/**
 * What the parts of a place are, from the outside in: by their words, else the next smaller thing. Each part is
 * smaller than the one it stands in; parts beyond the smallest become part of its name. Where the first is no room,
 * `room` is put before it.
 *
 * @example placeSteps(['Rack 1', '4'], 'Breeding room') // room Breeding room, rack Rack 1, shelf 4
 */
export function placeSteps(path: readonly string[], room: string): PlaceStep[] {
  if (path.length === 0) return [];
  const [first, ...rest] = path as [string, ...string[]];
  const kind = outermost(first, path.length);
  const outer: PlaceStep[] = kind === 'room' ? [] : [{ name: room, kind: 'room' }];
  return [...outer, { name: first, kind }, ...stepsUnder(kind, rest)];
}

/** The parts of a place that stand in one whose kind is known. */
export function stepsUnder(outer: PlaceKind, names: readonly string[]): PlaceStep[] {
  const steps: PlaceStep[] = [];
  for (const name of names) {
    const last = steps.at(-1);
    const kind = smaller(name, last?.kind ?? outer);
    if (kind !== null) steps.push({ name, kind });
    else if (last) last.name = `${last.name} ${name}`.slice(0, 80);
    // Nothing is smaller than a position: what would stand in one stands there itself.
  }
  return steps;
}

/** Whether a place needs a room that it does not name. */
export function lacksRoom(path: readonly string[]): boolean {
  return path.length > 0 && outermost(path[0]!, path.length) !== 'room';
}

function byWord(name: string): PlaceKind | null {
  return WORDS.find(([, pattern]) => pattern.test(name))?.[0] ?? null;
}

/** A number alone is a shelf, or a rack with something on it; a name without one is a room. */
function outermost(name: string, parts: number): PlaceKind {
  return byWord(name) ?? (/\d/.test(name) ? (parts > 1 ? 'rack' : 'shelf') : 'room');
}

function smaller(name: string, outer: PlaceKind): PlaceKind | null {
  const at = placeKinds.indexOf(outer);
  const told = byWord(name);
  if (told && placeKinds.indexOf(told) > at) return told;
  if (at < placeKinds.indexOf('shelf') && /^\d{1,3}\p{L}?$/u.test(name)) return 'shelf';
  return placeKinds[at + 1] ?? null;
}
