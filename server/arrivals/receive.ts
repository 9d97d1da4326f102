import type { FastifyRequest } from 'fastify';
import type { PhotoWords } from '../../views/arrivals/part-report-form.tsx';
import { allowUpload } from '../plumbing/patience.ts';
import {
  mostPhotoBytes,
  type PhotoFault,
  type PreparedPhoto,
  preparePhoto,
} from '../plumbing/prepare-photo.ts';

/** Photos of one report. */
export const mostPhotos = 3;

export type Received = {
  fields: Record<string, string>;
  photos: PreparedPhoto[];
  /** What is wrong with a photo, the first that was found. */
  photoFault: PhotoWords | null;
};

const wordsFor: Record<PhotoFault, PhotoWords> = {
  'no photo': 'page.photoNone',
  heic: 'page.photoHeic',
  'too many pixels': 'page.photoPixels',
  'too small': 'page.photoSmall',
  damaged: 'page.photoDamaged',
};

const limits = { fileSize: mostPhotoBytes, files: 12, fields: 100, fieldSize: 20_000, parts: 112 };

function fieldsOf(body: unknown): Record<string, string> {
  const fields: Record<string, string> = {};
  for (const [name, value] of Object.entries(body ?? {})) fields[name] = String([value].flat().at(-1) ?? '');
  return fields;
}

/**
 * Reads a report and its photos, one after the other, so that only one is in memory as it was sent. A photo that cannot
 * be taken is passed over and told of; what was typed is there in any case.
 */
export async function receiveReport(request: FastifyRequest): Promise<Received> {
  if (!request.isMultipart()) return { fields: fieldsOf(request.body), photos: [], photoFault: null };
  allowUpload(request);
  const got: Received = { fields: {}, photos: [], photoFault: null };
  let files = 0;
  // the library's types do not know that a file may be cut off in place of all that follows
  const asked = { limits, throwFileSizeLimit: false };
  for await (const part of request.parts(asked)) {
    if (part.type === 'field') {
      got.fields[part.fieldname] = String(part.value);
      continue;
    }
    // An empty choice is sent as a file without a name.
    if (!part.filename) {
      part.file.resume();
      continue;
    }
    files += 1;
    if (files > mostPhotos) {
      got.photoFault ??= 'page.photoTooMany';
      part.file.resume();
      continue;
    }
    const bytes = await part.toBuffer();
    if (part.file.truncated) {
      got.photoFault ??= 'page.photoTooLarge';
      continue;
    }
    const prepared = await preparePhoto(bytes);
    if ('photo' in prepared) got.photos.push(prepared.photo);
    else got.photoFault ??= wordsFor[prepared.fault];
  }
  return got;
}
