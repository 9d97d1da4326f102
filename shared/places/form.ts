import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { neededLine, tidyLine } from '../text.ts';

/** From the largest to the smallest; each stands in one that is larger, at any step (a shelf straight in a room). */
export const placeKinds = ['room', 'rack', 'shelf', 'position'] as const;
export type PlaceKind = (typeof placeKinds)[number];

export const placeKindWords: Record<PlaceKind, { one: string; many: string }> = {
  room: { one: 'room', many: 'Rooms' },
  rack: { one: 'rack', many: 'Racks' },
  shelf: { one: 'shelf', many: 'Shelves' },
  position: { one: 'position', many: 'Positions' },
};

/** Whether a place of one kind may stand in another; null is the building. */
export function mayStandIn(kind: PlaceKind, parent: PlaceKind | null): boolean {
  if (parent === null) return kind === 'room';
  return placeKinds.indexOf(parent) < placeKinds.indexOf(kind);
}

const mostAtOnce = 60;

const names = z.string({ error: 'Write at least one name.' }).transform((text, context) => {
  const list = text
    .split(/\r?\n/)
    .map(tidyLine)
    .filter((name) => name !== '');
  const twice = list.find((name, i) => list.findIndex((n) => sameName(n, name)) !== i);
  const long = list.find((name) => name.length > 80);
  const message =
    (list.length === 0 && 'Write at least one name.') ||
    (list.length > mostAtOnce && `At most ${mostAtOnce} at once.`) ||
    (long !== undefined && `"${long.slice(0, 30)}…" is longer than 80 characters.`) ||
    (twice !== undefined && `"${twice}" is there twice.`);
  if (!message) return list;
  context.addIssue({ code: 'custom', message });
  return z.NEVER;
});

/** As the database tells names apart. */
export function sameName(one: string, other: string): boolean {
  return one.toLowerCase() === other.toLowerCase();
}

const parentId = typedNumber({ whole: true, min: 1 }).optional();

export const addPlacesForm = z.object({
  kind: z.enum(placeKinds, { error: 'Say what it is.' }),
  parentId,
  names,
});

export const editPlaceForm = z.object({ name: neededLine(80, 'Give it a name.'), parentId });

export const placeFieldWords: Record<string, string> = {
  kind: 'What',
  parentId: 'Stands in',
  names: 'Names',
  name: 'Name',
};
