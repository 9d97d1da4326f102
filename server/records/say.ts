import { type FaultKind, faultKinds } from '../../shared/records/faults.ts';
import { RecordsError } from '../../shared/records/limits.ts';
import type { Mapping } from '../../shared/records/mapping.ts';
import { openFiles } from '../../shared/records/read-import.ts';
import { readSavedMapping } from '../../shared/records/saved-mapping.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { typed, withErrors } from '../plumbing/forms.ts';
import type { Look } from './look.ts';
import { draftHref, lookIn, previewPage } from './preview.ts';
import { type Said as Keep, saveSaid, type Upload } from './queries-drafts.ts';
import { type Part, parts } from './said.ts';

const saidMeanwhile =
  'Something else was said about these files meanwhile, here or in another window. Look again.';

/**
 * Keeps what was said, once; where somebody said something else meanwhile nothing is kept: the form comes back, or the
 * preview does where the form holds nothing that was typed.
 */
export function keep(
  call: StaffCall,
  upload: Upload,
  said: Keep,
  { hash = '', back }: { hash?: string; back?: (form: FormState) => Answer } = {},
): Answer {
  const version = Number(call.body.version);
  const shown = { ...upload, version: Number.isInteger(version) ? version : 0 };
  const kept = call.once((tx) => saveSaid(tx, shown, said));
  const to = `${draftHref(upload)}${hash}`;
  if (kept) return redirect(to);
  if (back) return back(withErrors(typed(call.body), { '': saidMeanwhile }));
  return redirect(to, { tone: 'needs-you', text: saidMeanwhile });
}

/** The mappings of all files of an upload, with some of them put in place. */
export const withMapping = (upload: Upload, at: number, mapping: Mapping): (Mapping | null)[] =>
  upload.files.map((file, index) => (index === at ? mapping : file.mapping));

/** Words of a refusal where the files could not be read so; null where they can. */
function refusal(upload: Upload, mappings: (Mapping | null)[]): string | null {
  try {
    openFiles(
      upload.files.map(({ name, bytes }, at) => ({ name, bytes, mapping: mappings[at] ?? undefined })),
    );
    return null;
  } catch (error) {
    if (error instanceof RecordsError) return error.message;
    throw error;
  }
}

export function fileIn(call: StaffCall, look: Look): number {
  const number = numberIn(call, 'number', 'file');
  if (number > look.reading.files.length) throw notFound('file');
  return number - 1;
}

const comesBack = (call: StaffCall, upload: Upload, look: Look, at: number, form: FormState) =>
  wrongForm(previewPage(call, upload, look, { ...form, id: `file${at + 1}` }));

/** One part of how a file is read: its format, its columns, its words ... */
export async function saySomething(call: StaffCall): Promise<Answer> {
  const { upload, look } = await lookIn(call);
  const at = fileIn(call, look);
  const part = call.body.part;
  if (typeof part !== 'string' || !Object.hasOwn(parts, part)) throw notFound('part');
  const said = parts[part as Part](call.body, look.reading.files[at]!);
  if (!said.ok) return comesBack(call, upload, look, at, said.form);
  const mappings = withMapping(upload, at, said.mapping);
  if (part === 'format') {
    const refused = refusal(upload, mappings);
    if (refused !== null) {
      const form = withErrors({ values: {}, errors: {} }, { '': refused });
      return comesBack(call, upload, look, at, form);
    }
  }
  const hash = part === 'dates' || part === 'codes' ? '' : `#file-${at + 1}`;
  const back = (form: FormState) =>
    page(previewPage(call, upload, look, { ...form, id: `file${at + 1}` }), 409);
  return keep(call, upload, { mappings }, { hash, back });
}

const isFaultKind = (text: string): text is FaultKind => Object.hasOwn(faultKinds, text);

/** Which kinds of faulty rows are left out knowingly; the form names all that it showed. */
export async function sayLeftOut(call: StaffCall): Promise<Answer> {
  const { upload, look } = await lookIn(call);
  const listed = (name: string) => [call.body[name] ?? []].flat();
  const mappings = look.reading.files.map(({ kind, mapping }): Mapping => {
    const of = (names: string[]) =>
      names.flatMap((name) => (name.startsWith(`${kind} `) ? [name.slice(kind.length + 1)] : []));
    const shown = new Set(of(listed('shown')));
    const chosen = of(listed('leaveOut')).filter(isFaultKind);
    const kept = mapping.leaveOut.filter((one) => !shown.has(one));
    return { ...mapping, leaveOut: [...new Set([...kept, ...chosen])] };
  });
  return keep(call, upload, { mappings }, { hash: '#faulty' });
}

/** Everything from a saved mapping at once. */
export async function takeMapping(call: StaffCall): Promise<Answer> {
  const { upload, look } = await lookIn(call);
  const comes = (error: string) =>
    wrongForm(previewPage(call, upload, look, { values: {}, errors: { mapping: error }, id: 'mapping' }));
  const sent = call.uploads.find((one) => one.field === 'mapping');
  if (!sent) return comes('Choose the file of a saved mapping.');
  try {
    const saved = readSavedMapping(sent.bytes.toString('utf8'));
    const mappings = upload.files.map((file, at) => saved[look.reading.files[at]!.kind] ?? file.mapping);
    const refused = refusal(upload, mappings);
    if (refused !== null) return comes(refused);
    return keep(call, upload, { mappings, choices: saved.stock ?? upload.choices });
  } catch (error) {
    if (error instanceof RecordsError) return comes(error.message);
    throw error;
  }
}
