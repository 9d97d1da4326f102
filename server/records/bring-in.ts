import { formatCount } from '../../views/layout/format.ts';
import { type Answer, download, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { forgetLook, type Look } from './look.ts';
import { draftHref, lookIn, seenOf, uploadIn } from './preview.ts';
import { deleteUpload, type Upload } from './queries-drafts.ts';
import { type BroughtIn, ReadAgain, writeImport } from './write-import.ts';

const importHref = (importId: number) => `/records/imports/${importId}`;

const lookAgain = (upload: Upload): Answer =>
  redirect(draftHref(upload), {
    tone: 'needs-you',
    text: 'something changed since you looked at this. Nothing was written: look again, then bring it in.',
  });

/** Writes it all, or nothing: null where the records are not those that were looked at any more. */
function write(call: StaffCall, upload: Upload, look: Look): BroughtIn | null {
  const by = { personId: call.who.id, now: call.clock.now() };
  try {
    return call.once((tx) => {
      const done = writeImport(tx, look, by);
      deleteUpload(tx, upload);
      return done;
    });
  } catch (error) {
    if (error instanceof ReadAgain) return null;
    throw error;
  }
}

/** Brings in what was looked at. Where the records have changed since, it is read again, and must still be the same. */
export async function bringIn(call: StaffCall): Promise<Answer> {
  const before = call.outcome<BroughtIn>();
  if (before) return redirect(importHref(before.importId));
  for (let tries = 0; tries < 3; tries += 1) {
    const { upload, look } = await lookIn(call);
    const rows = look.reading.files.reduce((sum, file) => sum + file.counts.accepted, 0);
    if (call.body.seen !== seenOf(upload, look) || !look.ready || rows === 0) return lookAgain(upload);
    const done = write(call, upload, look);
    if (!done) continue;
    forgetLook(call.db);
    return redirect(importHref(done.importId), `${formatCount(done.rows, 'row')} came in.`);
  }
  return lookAgain(uploadIn(call));
}

export function throwAway(call: StaffCall): Answer {
  if (call.outcome()) return redirect('/records');
  const upload = uploadIn(call);
  call.once((tx) => {
    deleteUpload(tx, upload);
    return true;
  });
  forgetLook(call.db);
  const names = upload.files.map((file) => file.name).join(' and ');
  return redirect('/records', `${names} thrown away. Nothing of it was written.`);
}

/** A CSV or JSON file to save; the text is told to be UTF-8. */
export const csvFile = (text: string, fileName: string): Answer =>
  // The mark lets spreadsheets know that it is UTF-8.
  download(`\uFEFF${text}`, 'text/csv; charset=utf-8', fileName);
