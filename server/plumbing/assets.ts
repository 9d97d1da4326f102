import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import files from '@fastify/static';
import type { FastifyInstance } from 'fastify';

const folder = fileURLToPath(new URL('../../static', import.meta.url));

/** Changes whenever a style or script does, so that browsers may keep them for a year. */
export function versionOfAssets(): string {
  const hash = createHash('sha256');
  for (const name of readdirSync(folder).sort()) {
    if (/\.(css|js|svg)$/.test(name)) hash.update(name).update(readFileSync(join(folder, name)));
  }
  return hash.digest('hex').slice(0, 12);
}

export async function serveAssets(app: FastifyInstance) {
  // Only a file that is there may be kept: a page that says it is not bears the name of whoever asked.
  await app.register(files, {
    root: folder,
    serve: false,
    dotfiles: 'ignore',
    maxAge: '365d',
    immutable: true,
  });
  const config = { access: 'anyone', beforeSetUp: true } as const;
  // Modules import one another without a version, so a browser asks each time whether they are still the same.
  const askEachTime = { maxAge: 0, immutable: false };
  app.get<{ Params: { '*': string } }>('/static/*', { config }, (request, reply) => {
    const path = request.params['*'];
    return path.startsWith('waiting/') ? reply.sendFile(path, askEachTime) : reply.sendFile(path);
  });
  // From the root, so that it may stand between every page and the network.
  app.get('/sw.js', { config }, (_request, reply) =>
    reply.header('service-worker-allowed', '/').sendFile('waiting/worker.js', askEachTime),
  );
}
