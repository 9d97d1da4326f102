import { numberIn } from './address.ts';
import { changesBetween, note } from './audit.ts';
import type { FormState, StaffCall } from './call.ts';
import { isOvertaken, isWrong, type Outcome, overtaken, saved } from './edits.ts';
import { notFound } from './errors.ts';
import type { Db } from './open-database.ts';

/** A row that bears a name of its own and is retired rather than deleted. */
export type KeptRow = { id: number; name: string; retiredAt: number | null };

/** How things of one kind are kept. */
export type Kept<Row extends KeptRow, Values extends { name: string }> = {
  /** As people call it: 'box'. */
  what: string;
  /** As the record of changes calls one: 'box 3'. */
  subject: (id: number) => string;
  read: (db: Db, id: number) => Row | undefined;
  /** What the form holds of a row, or of a new one before anything is typed. */
  shown: (call: StaffCall, row: Row | null) => FormState['values'];
  /** The one that has a name; left out where names may repeat. */
  named?: (db: Db, name: string) => Row | undefined;
  insert: (tx: Db, values: Values, at: number) => number;
  update: (tx: Db, stored: Row, values: Values, call: StaffCall) => void;
  setRetired: (tx: Db, id: number, at: number | null) => void;
};

/** The one that the address names, or "not found". */
export function keptIn<Row extends KeptRow, V extends { name: string }>(
  call: StaffCall,
  kept: Kept<Row, V>,
): Row {
  const row = kept.read(call.db, numberIn(call, 'id', kept.what));
  if (!row) throw notFound(kept.what);
  return row;
}

function nameFaults<Row extends KeptRow, V extends { name: string }>(
  tx: Db,
  { what, named }: Kept<Row, V>,
  name: string,
  ownId: number | null,
): Record<string, string> {
  const namesake = named?.(tx, name);
  if (!namesake || namesake.id === ownId) return {};
  return {
    name:
      namesake.retiredAt === null
        ? `Another ${what} has this name already.`
        : `Another ${what}, which is out of use, has this name. Bring it back, or choose another name.`,
  };
}

/** Adds one; where its name is taken nothing is written, and `id` means nothing. */
export function addKept<Row extends KeptRow, V extends { name: string }>(
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

/** Saves one, unless somebody else did since the form was filled or its name is taken. */
export function saveKept<Row extends KeptRow, V extends { name: string }>(
  call: StaffCall,
  kept: Kept<Row, V>,
  id: number,
  values: V,
): Outcome {
  const at = call.clock.now();
  return call.once((tx): Outcome => {
    const stored = kept.read(tx, id);
    if (!stored) throw notFound(kept.what);
    if (isOvertaken(call, kept.shown(call, stored))) return overtaken;
    const errors = nameFaults(tx, kept, values.name, id);
    if (isWrong({ errors })) return { ...saved, errors };
    kept.update(tx, stored, values, call);
    const changes = changesBetween<Record<string, unknown>>(stored, { ...values });
    note(tx, { at, personId: call.who.id, action: 'changed', subject: kept.subject(id), ...changes });
    return saved;
  });
}

/** Takes one out of what is offered, or brings it back. */
export function setKeptRetired<Row extends KeptRow, V extends { name: string }>(
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
