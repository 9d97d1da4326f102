import { formatCount } from '../../views/layout/format.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { keepEnglish } from './queries-care.ts';
import { insertStarterSet } from './queries-starter-set.ts';
import { subjectOf } from './save.ts';

/** Enclosures are noted under the same words as by their own pages. */
export function addStarterSet(call: StaffCall): Answer {
  const at = call.clock.now();
  const made = call.once((tx) => {
    const { speciesIds, enclosureIds } = insertStarterSet(tx);
    for (const id of speciesIds) keepEnglish(tx, id, { personId: call.who.id, at });
    const subjects = [...speciesIds.map(subjectOf), ...enclosureIds.map((id) => `enclosure ${id}`)];
    for (const subject of subjects)
      note(tx, { at, personId: call.who.id, action: 'added from the starter set', subject });
    return { species: speciesIds.length, enclosures: enclosureIds.length };
  });
  if (made.species === 0) return redirect('/species', 'All common species are here already.');
  const enclosures = made.enclosures > 0 ? ` and ${formatCount(made.enclosures, 'enclosure')}` : '';
  return redirect(
    '/species',
    `${formatCount(made.species, 'species', 'species')}${enclosures} are written down. Look through each and make its figures yours; prices are still open.`,
  );
}
