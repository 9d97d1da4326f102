import type { Answer } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { subjectOf } from './add.ts';
import { placeIn } from './change.ts';
import { treeAnswer } from './list.ts';
import { childrenOf, orderPlaces, readPlace, updatePlace } from './queries.ts';

/** Changes places with the neighbour in use before it, or after it. */
function move(call: StaffCall, step: -1 | 1): Answer {
  const { id } = placeIn(call);
  const at = call.clock.now();
  const name = call.once((tx) => {
    const place = readPlace(tx, id);
    if (!place) throw notFound('place');
    const row = childrenOf(tx, place.parentId).filter((sibling) => sibling.retiredAt === null);
    const neighbour = row[row.findIndex((sibling) => sibling.id === id) + step];
    if (!neighbour || place.retiredAt !== null) return place.name;
    updatePlace(tx, place.id, { shelfOrder: neighbour.shelfOrder });
    updatePlace(tx, neighbour.id, { shelfOrder: place.shelfOrder });
    orderPlaces(tx);
    note(tx, {
      at,
      personId: call.who.id,
      action: step < 0 ? 'moved up' : 'moved down',
      subject: subjectOf(id),
    });
    return place.name;
  });
  return treeAnswer(call, {
    text: `${name} now comes ${step < 0 ? 'earlier' : 'later'} on the walk.`,
    tone: 'plain',
    undo: { action: `/places/${id}/${step < 0 ? 'down' : 'up'}`, label: 'Undo' },
  });
}

export const movePlaceUp = (call: StaffCall): Answer => move(call, -1);
export const movePlaceDown = (call: StaffCall): Answer => move(call, 1);
