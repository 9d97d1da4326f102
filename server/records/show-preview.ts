import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { lookIn, previewPage } from './preview.ts';

/** What would come in of an upload, what would not, and what is open. Reading changes nothing. */
export async function showPreview(call: StaffCall): Promise<Answer> {
  const { upload, look } = await lookIn(call);
  return page(previewPage(call, upload, look));
}
