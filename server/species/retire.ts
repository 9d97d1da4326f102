import { formatCount } from '../../views/layout/format.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { culturesOfSpecies, ordersPromising, setSpeciesRetired } from './queries.ts';
import { speciesIn } from './read.ts';
import { subjectOf } from './save.ts';

function setRetired(tx: Db, call: StaffCall, id: number, retired: boolean) {
  const at = call.clock.now();
  setSpeciesRetired(tx, id, retired ? at : null);
  note(tx, {
    at,
    personId: call.who.id,
    action: retired ? 'retired' : 'brought back',
    subject: subjectOf(id),
  });
}

/** A retired species takes no new cultures and no new orders; what is promised already is kept first. */
export function retireSpecies(call: StaffCall): Answer {
  const { id, scientificName } = speciesIn(call);
  const promised = call.once((tx) => {
    const numbers = ordersPromising(tx, id);
    if (numbers.length === 0) setRetired(tx, call, id, true);
    return numbers;
  });
  if (promised.length > 0) {
    const one = promised.length === 1;
    const list = promised.slice(0, 5).join(', ') + (promised.length > 5 ? ' and others' : '');
    return redirect(`/species/${id}`, {
      text: `${scientificName} stays: ${one ? 'order' : 'orders'} ${list} ${one ? 'still promises' : 'still promise'} animals of it. Pack or cancel ${one ? 'it' : 'them'} first.`,
      tone: 'needs-you',
    });
  }
  const kept = culturesOfSpecies(call.db, id).length;
  const stay =
    kept > 0 ? ` ${formatCount(kept, 'culture')} of it ${kept === 1 ? 'stays' : 'stay'} in the round.` : '';
  return redirect(`/species/${id}`, {
    text: `${scientificName} is retired: no new cultures, no new orders.${stay}`,
    tone: 'plain',
    undo: { action: `/species/${id}/bring-back`, label: 'Undo' },
  });
}

export function bringBackSpecies(call: StaffCall): Answer {
  const { id, scientificName } = speciesIn(call);
  call.once((tx) => setRetired(tx, call, id, false));
  return redirect(`/species/${id}`, `${scientificName} is back.`);
}
