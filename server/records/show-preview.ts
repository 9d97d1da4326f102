import { h } from 'preact';
import { ReadingPage } from '../../views/records/page-reading.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { lookAtUpload } from './look.ts';
import { draftHref, previewPage, uploadIn } from './preview.ts';

/** Longer than this nobody is left without an answer; a connection that says nothing is closed soon after. */
const patienceMs = 4_000;

const patience = () =>
  new Promise<null>((done) => {
    setTimeout(done, patienceMs, null).unref();
  });

/**
 * What would come in of an upload, what would not, and what is open. Reading changes nothing; a large file takes its
 * time in a thread, and the page asks again until it is read.
 */
export async function showPreview(call: StaffCall): Promise<Answer> {
  const upload = uploadIn(call);
  const look = await Promise.race([lookAtUpload(call.db, upload, call.today), patience()]);
  if (look) return page(previewPage(call, upload, look));
  const names = upload.files.map((file) => file.name);
  return page(h(ReadingPage, { furniture: call.furniture, href: draftHref(upload), names }));
}
