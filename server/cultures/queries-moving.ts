import {
  noteWithReason,
  type Objection,
  type Overruled,
  unanswered,
} from '../../shared/cultures/objections.ts';
import { contradiction, heldObjection, objectionsToTaking, tooMany } from '../../shared/cultures/taking.ts';
import { readEstimate, refreshEstimate } from '../counts/queries-estimate.ts';
import { tryTaking } from '../counts/queries-taking.ts';
import { whyNeverMixed } from '../lines/queries-apart.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  additionEntry,
  type EntryBase,
  harvestEntry,
  type MovedEntry,
  type MovedForm,
} from './diary-entries.ts';
import type { Culture } from './queries.ts';
import { appendEntry } from './queries-diary.ts';

/** What a form is told when nothing can be written. */
export type Why = { objections: Objection[]; errors: Record<string, string> };

/** Who moves animals, when, and how the form lets objections be overruled. */
export type Moving = {
  today: string;
  now: number;
  isOwner: boolean;
  /** The words beside the box that overrules an objection. */
  tick: string;
  /** Takes everything back that this transaction has written. */
  stop: (why: Why) => never;
};

/** Animals leave a culture: tried first, and written with the reason when somebody overruled an objection. */
export function takeOut(tx: Db, from: Culture, entry: MovedEntry, form: Overruled, moving: Moving): number {
  const { today, now, isOwner, tick, stop } = moving;
  const taking = tryTaking(tx, entry, today);
  const impossible = tooMany(taking);
  if (impossible) stop({ objections: [], errors: { animals: impossible } });
  const health = readEstimate(tx, from.id)?.health ?? 'well';
  const objections = [
    heldObjection(health, from.code, tick),
    ...objectionsToTaking(taking, from.code, tick),
  ].filter((o) => o !== null);
  const why = unanswered(objections, form, isOwner);
  if (why) stop(why);
  const id = appendEntry(tx, { ...entry, note: noteWithReason(entry.note ?? '', objections, form.reason) });
  refreshEstimate(tx, from.id, today, now);
  return id;
}

/** An entry that must not contradict the rest of the diary, unless somebody says that it may. */
export function holdAgainstDiary(
  tx: Db,
  { culture, onDay, before }: { culture: Culture; onDay: string; before: string | null },
  form: Overruled,
  { isOwner, tick, stop }: Moving,
) {
  const faults = { before, after: readEstimate(tx, culture.id)?.fault ?? null };
  const against = contradiction(faults, onDay, tick);
  const why = unanswered(against ? [against] : [], form, isOwner);
  if (why) stop(why);
}

/**
 * Animals of one culture are put into another: one leaves the first, one enters the second, in both diaries. What is
 * marked never to be mixed is not. Returns the id of the entry in the receiving culture's diary.
 */
export function mixInto(
  tx: Db,
  { from, into, form, base }: { from: Culture; into: Culture; form: MovedForm & Overruled; base: EntryBase },
  moving: Moving,
): number {
  const never = whyNeverMixed(tx, from, into);
  if (never) moving.stop({ objections: [], errors: { fromId: never } });
  const before = readEstimate(tx, into.id)?.fault ?? null;
  takeOut(tx, from, harvestEntry(form, from, base, into), form, moving);
  const id = appendEntry(tx, additionEntry(form, into, base, from));
  refreshEstimate(tx, into.id, moving.today, moving.now);
  holdAgainstDiary(tx, { culture: into, onDay: base.onDay, before }, form, moving);
  return id;
}
