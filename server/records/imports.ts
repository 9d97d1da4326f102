import { h } from 'preact';
import { formatMoment } from '../../views/layout/format.ts';
import { ImportPage, type ImportPageProps } from '../../views/records/page-import.tsx';
import { UndoPage } from '../../views/records/page-undo.tsx';
import { EstimatesProgress } from '../../views/records/part-progress.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, part, redirect } from '../plumbing/answers.ts';
import { attempt } from '../plumbing/attempt.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound, Refusal } from '../plumbing/errors.ts';
import { forgetLook } from './look.ts';
import { type ImportedFile, readGroup, readLeftOut } from './queries-imports.ts';
import { estimatesOf, unmeasuredOf } from './queries-progress.ts';
import { broughtBy, type Dependent, dependentsOf } from './queries-undo.ts';
import { undoImport } from './write-undo.ts';

const shownRows = 10;

function groupIn(call: StaffCall): ImportedFile[] {
  const group = readGroup(call.db, numberIn(call, 'id', 'import'));
  if (group.length === 0) throw notFound('import');
  return group;
}

const idsOf = (group: readonly ImportedFile[]) => group.map((file) => file.id);
const hrefOf = (group: readonly ImportedFile[]) => `/records/imports/${group[0]!.id}`;

function progressOf(call: StaffCall, group: readonly ImportedFile[]) {
  return {
    ...estimatesOf(call.db, idsOf(group), call.today),
    href: hrefOf(group),
    locale: call.business.locale,
  };
}

function fileView(call: StaffCall, group: readonly ImportedFile[], file: ImportedFile, at: number) {
  const { fileName, kind, broughtIn, alreadyThere, leftOutRows } = file;
  const first =
    leftOutRows === 0
      ? []
      : (readLeftOut(call.db, group[0]!.id, kind)?.leftOut.rows.slice(0, shownRows) ?? []);
  return { number: at + 1, fileName, kind, broughtIn, alreadyThere, leftOut: leftOutRows, first };
}

function importProps(call: StaffCall, group: readonly ImportedFile[]): ImportPageProps {
  const { timeZone, locale } = call.business;
  const first = group[0]!;
  const when = (at: number) => formatMoment(at, timeZone, locale);
  return {
    furniture: call.furniture,
    id: first.id,
    when: when(first.madeAt),
    by: first.by,
    undone: first.undoneAt === null ? null : when(first.undoneAt),
    files: group.map((file, at) => fileView(call, group, file, at)),
    brought: broughtBy(call.db, idsOf(group)),
    unmeasured: unmeasuredOf(call.db, idsOf(group)),
    progress: progressOf(call, group),
  };
}

/** What came in, and how far the estimates are; htmx asks for the progress alone. */
export function showImport(call: StaffCall): Answer {
  const group = groupIn(call);
  if (call.wantsPart) return part(h(EstimatesProgress, progressOf(call, group)));
  return page(h(ImportPage, importProps(call, group)));
}

function undoPage(call: StaffCall, group: readonly ImportedFile[], dependents: readonly Dependent[]) {
  return h(UndoPage, {
    furniture: call.furniture,
    id: group[0]!.id,
    files: group.map((file) => file.fileName),
    brought: broughtBy(call.db, idsOf(group)),
    dependents: [...dependents],
  });
}

function notUndone(call: StaffCall): ImportedFile[] {
  const group = groupIn(call);
  if (group.some((file) => file.state !== 'done'))
    throw new Refusal(
      409,
      'Undone already',
      'This was undone already. Bring the files again if you want them back.',
    );
  return group;
}

export function askUndo(call: StaffCall): Answer {
  const group = notUndone(call);
  return page(undoPage(call, group, dependentsOf(call.db, idsOf(group))));
}

/** Something that is not asked about here may still stand on the import: the database itself refuses then. */
const standsOnIt = (error: unknown) =>
  error instanceof Error && (error as { code?: string }).code === 'SQLITE_CONSTRAINT_FOREIGNKEY';

export function undo(call: StaffCall): Answer {
  if (call.outcome()) return redirect('/records');
  const group = notUndone(call);
  const ids = idsOf(group);
  try {
    const tried = attempt<true, Dependent[]>(call, (tx, stop) => {
      const dependents = dependentsOf(tx, ids);
      if (dependents.length > 0) stop(dependents);
      undoImport(tx, ids, { personId: call.who.id, now: call.clock.now() });
      return true;
    });
    if ('why' in tried) return page(undoPage(call, group, tried.why), 409);
  } catch (error) {
    if (!standsOnIt(error)) throw error;
    return page(
      undoPage(call, group, [{ what: 'other things that name its cultures', codes: [], count: 1 }]),
      409,
    );
  }
  forgetLook(call.db);
  const names = group.map((file) => file.fileName).join(' and ');
  return redirect('/records', `${names} undone: the records are as they were before.`);
}
