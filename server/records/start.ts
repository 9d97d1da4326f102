import { h } from 'preact';
import { emptyForm } from '../../views/layout/form-state.ts';
import { formatMoment } from '../../views/layout/format.ts';
import { type FormerImport, RecordsPage } from '../../views/records/page-records.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { listUploads } from './queries-drafts.ts';
import { type ImportedFile, listGroups } from './queries-imports.ts';

function formerImport(call: StaffCall, group: readonly ImportedFile[]): FormerImport {
  const first = group[0]!;
  const { timeZone, locale } = call.business;
  const sum = (value: (file: ImportedFile) => number) =>
    group.reduce((total, file) => total + value(file), 0);
  return {
    id: first.id,
    files: group.map((file) => file.fileName),
    rows: sum((file) => file.broughtIn),
    leftOut: sum((file) => file.leftOutRows),
    by: first.by,
    when: formatMoment(first.madeAt, timeZone, locale),
    undone: first.undoneAt === null ? null : formatMoment(first.undoneAt, timeZone, locale),
  };
}

export function recordsPage(call: StaffCall, form: FormState) {
  const { timeZone, locale } = call.business;
  return h(RecordsPage, {
    furniture: call.furniture,
    form,
    drafts: listUploads(call.db, call.who.id).map(({ id, names, madeAt }) => ({
      key: id,
      names,
      when: formatMoment(madeAt, timeZone, locale),
    })),
    imports: listGroups(call.db).map((group) => formerImport(call, group)),
  });
}

export const showRecords = (call: StaffCall): Answer => page(recordsPage(call, emptyForm));
