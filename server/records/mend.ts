import { h } from 'preact';
import { limits } from '../../shared/records/limits.ts';
import type { Mapping, SettledMapping } from '../../shared/records/mapping.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { MendPage } from '../../views/records/page-mend.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { typed } from '../plumbing/forms.ts';
import type { Look } from './look.ts';
import { draftHref, lookIn } from './preview.ts';
import type { Upload } from './queries-drafts.ts';
import { fileIn, keep, withMapping } from './say.ts';

const mostMends = 5_000;
type Mend = SettledMapping['mends'][number];

/** A row that is faulty or was left out for a fault, or one that was mended before. */
function rowIn(call: StaffCall, look: Look) {
  const at = fileIn(call, look);
  const line = numberIn(call, 'line', 'row');
  const file = look.reading.files[at]!;
  const faulty = look.reading.faulty.find((row) => row.file === file.kind && row.line === line);
  const mended = file.mapping.mends.find((mend) => mend.line === line);
  if (faulty)
    return { at, line, file, was: mended?.was ?? faulty.raw, cells: faulty.cells, row: faulty, mended };
  if (mended) return { at, line, file, was: mended.was, cells: mended.cells, row: null, mended };
  throw notFound('row');
}
type Row = ReturnType<typeof rowIn>;

function mendPage(
  call: StaffCall,
  upload: Upload,
  { at, line, file, was, row, mended }: Row,
  form: FormState,
) {
  return h(MendPage, {
    furniture: call.furniture,
    back: draftHref(upload),
    action: `${draftHref(upload)}/files/${at + 1}/rows/${line}`,
    version: upload.version,
    fileName: file.name,
    line,
    labels: file.labels,
    raw: was,
    reasons: row?.reasons ?? [],
    isMended: mended !== undefined,
    form,
  });
}

const valuesOf = ({ file, cells }: Row) =>
  Object.fromEntries(file.labels.map((_, at) => [`cell.${at}`, cells[at] ?? '']));

/** Nobody writes down who mended which row. */
const cellsNow = (row: Row) => ({ savedBy: null, savedWhen: 'meanwhile', stored: valuesOf(row) });

export async function askMend(call: StaffCall): Promise<Answer> {
  const { upload, look } = await lookIn(call);
  const row = rowIn(call, look);
  return page(mendPage(call, upload, row, { values: valuesOf(row), errors: {} }));
}

/** The mapping with a mend put in, or taken out. */
function withMend(mapping: SettledMapping, line: number, mend: Mend | null): Mapping {
  const others = mapping.mends.filter((one) => one.line !== line);
  return { ...mapping, mends: mend ? [...others, mend] : others };
}

export async function saveMend(call: StaffCall): Promise<Answer> {
  if (call.outcome()) return redirect(`/records/drafts/${call.params.key}`);
  const { upload, look } = await lookIn(call);
  const row = rowIn(call, look);
  const { at, line, file, was } = row;
  if (call.body.takeBack === 'yes')
    return keep(call, upload, { mappings: withMapping(upload, at, withMend(file.mapping, line, null)) });
  const form = typed(call.body);
  const cells = file.labels.map((_, column) => String(form.values[`cell.${column}`] ?? ''));
  for (const [column, cell] of cells.entries())
    if (cell.length > limits.cellChars) form.errors[`cell.${column}`] = 'At most 10,000 characters.';
  if (file.mapping.mends.length >= mostMends)
    form.errors[''] = 'So many rows are better mended in the file itself: bring it again.';
  if (Object.keys(form.errors).length > 0) return wrongForm(mendPage(call, upload, row, form));
  const mappings = withMapping(upload, at, withMend(file.mapping, line, { line, was, cells }));
  const back = (typedAgain: FormState) =>
    page(mendPage(call, upload, row, { ...typedAgain, errors: {}, meanwhile: cellsNow(row) }), 409);
  return keep(call, upload, { mappings }, { hash: '#faulty', back });
}
