import multipart from '@fastify/multipart';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { FormBody, Upload } from './call.ts';
import { Refusal } from './errors.ts';

/** Files of one form. */
export const mostFiles = 4;

export async function acceptUploads(app: FastifyInstance) {
  await app.register(multipart, {
    limits: { fields: 200, fieldSize: 64_000, files: mostFiles, headerPairs: 50, parts: 210 },
  });
}

/** Reads a multipart form into memory, within the route's limit. */
export async function readUploads(
  request: FastifyRequest,
  maxBytes: number,
): Promise<{ body: FormBody; uploads: Upload[] }> {
  const body: FormBody = {};
  const uploads: Upload[] = [];
  if (!request.isMultipart()) return { body: (request.body as FormBody | undefined) ?? {}, uploads };
  for await (const part of request.parts({ limits: { fileSize: maxBytes } })) {
    if (part.type === 'field') {
      addValue(body, part.fieldname, String(part.value));
      continue;
    }
    const bytes = await part.toBuffer().catch(() => {
      throw new Refusal(
        413,
        'The file is too large',
        `At most ${Math.floor(maxBytes / 1_000_000)} MB can be read at once.`,
      );
    });
    // An empty choice is sent as a file without a name.
    if (part.filename) uploads.push({ field: part.fieldname, fileName: part.filename.slice(0, 200), bytes });
  }
  return { body, uploads };
}

function addValue(body: FormBody, name: string, value: string) {
  const before = Object.hasOwn(body, name) ? body[name] : undefined;
  body[name] = before === undefined ? value : Array.isArray(before) ? [...before, value] : [before, value];
}
