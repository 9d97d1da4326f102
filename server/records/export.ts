import { Readable } from 'node:stream';
import { type Answer, download } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { noteRead } from '../plumbing/reads.ts';
import { exportPieces, isCsv, isExported, isPersonal } from './export-files.ts';
import { photosTar } from './photos-tar.ts';

/** One file of the export, made when it is asked for. */
export function exportFile(call: StaffCall): Answer {
  const name = call.params.file ?? '';
  if (name === 'photos.tar') return download(Readable.from(photosTar(call.db)), 'application/x-tar', name);
  if (!isExported(name)) throw notFound('file');
  if (isPersonal(name)) noteRead(call, `export ${name}`, 'file');
  const type = isCsv(name) ? 'text/csv; charset=utf-8' : 'application/json; charset=utf-8';
  return download(Readable.from(exportPieces(call.db, name, call.clock.now())), type, name);
}
