import { formatCount } from '../../views/layout/format.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { enclosureIn, subjectOf } from './edit.ts';
import { culturesInEnclosure, setEnclosureRetired } from './queries.ts';

function setRetired(call: StaffCall, id: number, retired: boolean) {
  const at = call.clock.now();
  call.once((tx) => {
    setEnclosureRetired(tx, id, retired ? at : null);
    note(tx, {
      at,
      personId: call.who.id,
      action: retired ? 'retired' : 'brought back',
      subject: subjectOf(id),
    });
  });
}

/** Cultures that live in it stay as they are; it is only no longer offered for new ones. */
export function retireEnclosure(call: StaffCall): Answer {
  const { id, name } = enclosureIn(call);
  setRetired(call, id, true);
  const inUse = culturesInEnclosure(call.db, id).length;
  const unchanged = inUse === 1 ? 'stays as it is' : 'stay as they are';
  const stay = inUse > 0 ? ` ${formatCount(inUse, 'culture')} in it ${unchanged}.` : '';
  return redirect('/enclosures', {
    text: `${name} is not offered any more.${stay}`,
    tone: 'plain',
    undo: { action: `/enclosures/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackEnclosure(call: StaffCall): Answer {
  const { id, name } = enclosureIn(call);
  setRetired(call, id, false);
  return redirect('/enclosures', `${name} is offered again.`);
}
