import { addPlacesForm, mayStandIn, placeKindWords, sameName } from '../../shared/places/form.ts';
import { formatCount } from '../../views/layout/format.ts';
import { type Answer, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { isWrong, type Outcome, saved } from '../plumbing/edits.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { placesPage } from './list.ts';
import { childrenOf, insertPlace, orderPlaces, readPlace } from './queries.ts';

export const subjectOf = (id: number) => `place ${id}`;

/** What the stored places have to say against new ones of these names. */
export function placeFaults(
  db: Db,
  place: { kind: Parameters<typeof mayStandIn>[0]; parentId?: number; names: readonly string[] },
  ownId?: number,
): Record<string, string> {
  const { kind, parentId, names } = place;
  const parent = parentId === undefined ? null : readPlace(db, parentId);
  const errors: Record<string, string> = {};
  if (parent === undefined || parent?.retiredAt) errors.parentId = 'Choose a place of the list.';
  else if (!mayStandIn(kind, parent?.kind ?? null))
    errors.parentId =
      kind === 'room'
        ? 'A room stands in no other place.'
        : `A ${placeKindWords[kind].one} stands in something larger: choose what.`;
  const siblings = childrenOf(db, parentId ?? null).filter((sibling) => sibling.id !== ownId);
  const taken = names.flatMap((name) => siblings.find((sibling) => sameName(sibling.name, name)) ?? []);
  if (taken[0])
    errors[ownId === undefined ? 'names' : 'name'] = taken[0].retiredAt
      ? `"${taken[0].name}" is there, but no longer used: bring it back.`
      : `"${taken[0].name}" is there already.`;
  if (siblings.length + names.length > 999) errors.names = 'One place can hold 999 others at most.';
  return errors;
}

export function addPlaces(call: StaffCall): Answer {
  const read = readForm(addPlacesForm, call.body);
  if (!read.ok) return wrongForm(placesPage(call, read.form));
  const { kind, names, parentId = null } = read.data;
  const at = call.clock.now();
  const outcome = call.once((tx): Outcome => {
    const errors = placeFaults(tx, read.data);
    if (isWrong({ errors })) return { ...saved, errors };
    for (const name of names) {
      const id = insertPlace(tx, { kind, name, parentId });
      const after = { kind, name, parentId };
      note(tx, { at, personId: call.who.id, action: 'added', subject: subjectOf(id), after });
    }
    orderPlaces(tx);
    return saved;
  });
  if (isWrong(outcome)) return wrongForm(placesPage(call, withErrors(read.form, outcome.errors)));
  const words = names.length === 1 ? `${names[0]} is` : `${formatCount(names.length, 'place')} are`;
  return redirect('/places', `${words} written down.`);
}
