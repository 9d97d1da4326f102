import { formatCount } from '../../views/layout/format.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { subjectOf } from './add.ts';
import { placeIn } from './change.ts';
import { culturesOn, readPlace, setPlacesRetired, subtreeOf } from './queries.ts';

/** With all that stands in it; not while cultures stand there, or the round would not come past them. */
export function retirePlace(call: StaffCall): Answer {
  const place = placeIn(call);
  const at = call.clock.now();
  const standing = call.once((tx) => {
    const subtree = subtreeOf(tx, place.id).filter((p) => p.retiredAt === null);
    const codes = culturesOn(
      tx,
      subtree.map((p) => p.id),
    );
    if (codes.length > 0) return codes;
    setPlacesRetired(
      tx,
      subtree.map((p) => p.id),
      at,
    );
    note(tx, { at, personId: call.who.id, action: 'retired', subject: subjectOf(place.id) });
    return [];
  });
  if (standing.length > 0) {
    const some = standing.slice(0, 5).join(', ') + (standing.length > 5 ? ' and others' : '');
    return redirect('/places', {
      text: `${place.name} stays: ${formatCount(standing.length, 'culture')} would be left without a place (${some}). Move them first.`,
      tone: 'needs-you',
    });
  }
  return redirect('/places', {
    text: `${place.name} is no longer used.`,
    tone: 'plain',
    undo: { action: `/places/${place.id}/bring-back`, label: 'Undo' },
  });
}

/** What was retired together comes back together, and what it stands in as well. */
export function bringBackPlace(call: StaffCall): Answer {
  const place = placeIn(call);
  const at = call.clock.now();
  call.once((tx) => {
    const together = subtreeOf(tx, place.id).filter((p) => p.retiredAt === place.retiredAt);
    const above: number[] = [];
    for (let up = place.parentId; up !== null; ) {
      above.push(up);
      up = readPlace(tx, up)?.parentId ?? null;
    }
    setPlacesRetired(tx, [...together.map((p) => p.id), ...above], null);
    note(tx, { at, personId: call.who.id, action: 'brought back', subject: subjectOf(place.id) });
  });
  return redirect('/places', `${place.name} is used again.`);
}
