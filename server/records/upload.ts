import { type FileKind, fileKinds } from '../../shared/records/entries.ts';
import { RecordsError } from '../../shared/records/limits.ts';
import type { Mapping } from '../../shared/records/mapping.ts';
import { type ImportFile, openFile } from '../../shared/records/open-file.ts';
import { readSavedMapping, type SavedMapping } from '../../shared/records/saved-mapping.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { type Answer, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall, Upload } from '../plumbing/call.ts';
import { typed, withErrors } from '../plumbing/forms.ts';
import { insertUpload } from './queries-drafts.ts';
import { recordsPage } from './start.ts';

/** The two places for a file on the form. */
const slots = [1, 2] as const;

const fileIn = (call: StaffCall, field: string): Upload | undefined =>
  call.uploads.find((upload) => upload.field === field);

/** The name without folders and control characters, as it is shown and kept. */
function plainName(name: string): string {
  const last = name.split(/[/\\]/).at(-1) ?? '';
  return last.replace(/\p{C}/gu, '').slice(0, 200) || 'file.csv';
}

function savedIn(call: StaffCall, errors: Record<string, string>): SavedMapping | null {
  const upload = fileIn(call, 'mapping');
  if (!upload) return null;
  try {
    return readSavedMapping(upload.bytes.toString('utf8'));
  } catch (error) {
    if (!(error instanceof RecordsError)) throw error;
    errors.mapping = error.message;
    return null;
  }
}

/** A file with what was told about it; a RecordsError's words become the field's error. */
function readSlot(
  call: StaffCall,
  slot: (typeof slots)[number],
  saved: SavedMapping | null,
  errors: Record<string, string>,
): (ImportFile & { kind: FileKind }) | null {
  const field = `file${slot}`;
  const upload = fileIn(call, field);
  if (!upload) return null;
  const told = fileKinds.find((kind) => kind === call.body[`kind${slot}`]);
  const file = { name: plainName(upload.fileName), bytes: new Uint8Array(upload.bytes) };
  try {
    const bare: Mapping | undefined = told && { version: 1, kind: told };
    const { kind } = openFile({ ...file, mapping: bare });
    const mapping = saved?.[kind] ?? bare;
    if (mapping) openFile({ ...file, mapping });
    return { ...file, mapping, kind };
  } catch (error) {
    if (!(error instanceof RecordsError)) throw error;
    errors[field] = error.message;
    return null;
  }
}

const sayNone = 'Choose a CSV file.';
const sayTwo = (kind: FileKind) =>
  `Both files look like ${kind === 'cultures' ? 'a list of cultures' : 'a diary'}. Choose both files once more (a page cannot keep them) and say what each is, or bring them in one after the other.`;

/** Takes the files of the form in to be looked at; nothing of them is written yet. */
export function takeFiles(call: StaffCall): Answer {
  const errors: Record<string, string> = {};
  const saved = savedIn(call, errors);
  const files = slots.map((slot) => readSlot(call, slot, saved, errors)).filter((file) => file !== null);
  if (files.length === 0) errors.file1 ??= sayNone;
  const [first, second] = files;
  if (first && second && first.kind === second.kind) errors.kind2 = sayTwo(second.kind);
  if (Object.keys(errors).length > 0) {
    const form: FormState = withErrors(typed(call.body), errors);
    return wrongForm(recordsPage(call, form));
  }
  const by = { personId: call.who.id, now: call.clock.now() };
  const id = call.once((tx) => insertUpload(tx, files, saved?.stock ?? {}, by));
  return redirect(`/records/drafts/${id}`);
}
