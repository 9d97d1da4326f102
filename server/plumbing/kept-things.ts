import { numberIn } from './address.ts';
import { changesBetween, note } from './audit.ts';
import type { StaffCall } from './call.ts';
import { fingerprintOf, isWrong, type Outcome, overtaken, saved } from './edits.ts';
import { notFound } from './errors.ts';
import type { Db } from './open-database.ts';

/** How things of one kind are kept that bear a name of their own and are retired rather than deleted. */
export type Kept<Row extends { id: number }, Values extends { name: string }> = {
  /** As people call it: 'box'. */
  what: string;
  /** As the record of changes calls one: 'box 3'. */
  subject: (id: number) => string;
  read: (db: Db, id: number) => Row | undefined;
  named: (db: Db, name: string) => Row | undefined;
  insert: (tx: Db, values: Values, at: number) => number;
  update: (tx: Db, stored: Row, values: Values) => void;
  setRetired: (tx: Db, id: number, at: number | null) => void;
};

type Named = { id: number };
type NamedValues = { name: string };

/** The one that the address names, or "not found". */
export function keptIn<Row extends Named, V extends NamedValues>(call: StaffCall, kept: Kept<Row, V>): Row {
  const row = kept.read(call.db, numberIn(call, 'id', kept.what));
  if (!row) throw notFound(kept.what);
  return row;
}

function nameFaults<Row extends Named, V extends NamedValues>(
  tx: Db,
  kept: Kept<Row, V>,
  name: string,
  ownId: number | null,
): Record<string, string> {
  const namesake = kept.named(tx, name);
  return namesake && namesake.id !== ownId ? { name: `There is a ${kept.what} with this name already.` } : {};
}

/** Adds one; where its name is taken nothing is written, and `id` means nothing. */
export function addKept<Row extends Named, V extends NamedValues>(
  call: StaffCall,
  kept: Kept<Row, V>,
  values: V,
): { errors: Record<string, string>; id: number } {
  const at = call.clock.now();
  return call.once((tx) => {
    const errors = nameFaults(tx, kept, values.name, null);
    if (isWrong({ errors })) return { errors, id: 0 };
    const id = kept.insert(tx, values, at);
    const subject = kept.subject(id);
    note(tx, { at, personId: call.who.id, action: 'added', subject, after: { ...values } });
    return { errors, id };
  });
}

/** Saves one, unless somebody else did since the form was opened (its `version`) or its name is taken. */
export function saveKept<Row extends Named, V extends NamedValues>(
  call: StaffCall,
  kept: Kept<Row, V>,
  id: number,
  values: V,
): Outcome {
  const at = call.clock.now();
  return call.once((tx): Outcome => {
    const stored = kept.read(tx, id);
    if (!stored) throw notFound(kept.what);
    if (fingerprintOf(stored) !== call.body.version) return overtaken;
    const errors = nameFaults(tx, kept, values.name, id);
    if (isWrong({ errors })) return { ...saved, errors };
    kept.update(tx, stored, values);
    const changes = changesBetween<Record<string, unknown>>(stored, { ...values });
    note(tx, { at, personId: call.who.id, action: 'changed', subject: kept.subject(id), ...changes });
    return saved;
  });
}

/** Takes one out of what is offered, or brings it back. */
export function setKeptRetired<Row extends Named, V extends NamedValues>(
  call: StaffCall,
  kept: Kept<Row, V>,
  id: number,
  retired: boolean,
) {
  const at = call.clock.now();
  call.once((tx) => {
    kept.setRetired(tx, id, retired ? at : null);
    const action = retired ? 'retired' : 'brought back';
    note(tx, { at, personId: call.who.id, action, subject: kept.subject(id) });
  });
}
