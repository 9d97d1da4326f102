import { notBroughtInCsv, reportCsv } from '../../shared/records/report.ts';
import { writeSavedMapping } from '../../shared/records/saved-mapping.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, download } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { csvFile } from './bring-in.ts';
import { lookIn } from './preview.ts';
import { readGroup, readLeftOut } from './queries-imports.ts';
import { fileIn } from './say.ts';

const notIn = (name: string) => `${name.replace(/\.\w{1,5}$/, '')}-not-brought-in.csv`;

/** The rows of one file that will not come in, in its own columns, with every reason. */
export async function downloadNotBroughtIn(call: StaffCall): Promise<Answer> {
  const { look } = await lookIn(call);
  const file = look.reading.files[fileIn(call, look)]!;
  return csvFile([...notBroughtInCsv(look.reading, file.kind)].join(''), notIn(file.name));
}

/** Everything that was said about the files of an upload. */
export async function downloadMapping(call: StaffCall): Promise<Answer> {
  const { upload, look } = await lookIn(call);
  const mappings = Object.fromEntries(look.reading.files.map((file) => [file.kind, file.mapping]));
  const text = writeSavedMapping({ ...mappings, stock: upload.choices });
  return download(text, 'application/json; charset=utf-8', 'mapping.json');
}

/** The rows that an import left out, as they stood in the file. */
export function downloadLeftOut(call: StaffCall): Answer {
  const id = numberIn(call, 'id', 'import');
  const file = readGroup(call.db, id)[numberIn(call, 'number', 'file') - 1];
  const kept = file && readLeftOut(call.db, id, file.kind);
  if (!file || !kept) throw notFound('file');
  const lines = reportCsv(kept.leftOut.labels, kept.leftOut.rows);
  return csvFile([...lines].join(''), notIn(file.fileName));
}
