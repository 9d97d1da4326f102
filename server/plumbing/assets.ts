import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { brotliCompress, gzip, constants as levels } from 'node:zlib';
import files from '@fastify/static';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { styles } from '../../views/layout/styles.ts';

const folder = fileURLToPath(new URL('../../static', import.meta.url));

/** The modules of the round without a signal, by their names. */
const modules = readdirSync(join(folder, 'waiting')).sort();
const moduleText = (name: string) => readFileSync(join(folder, 'waiting', name));

/** Changes whenever a style or script does, so that browsers may keep them for a year. */
export function versionOfAssets(): string {
  const hash = createHash('sha256');
  for (const name of readdirSync(folder).sort()) {
    if (/\.(css|js|svg)$/.test(name)) hash.update(name).update(readFileSync(join(folder, name)));
  }
  for (const name of modules) hash.update(name).update(moduleText(name));
  hash.update(JSON.stringify(styles));
  return hash.digest('hex').slice(0, 12);
}

const pack = {
  // As tight as it gets: each is packed once, at its first visit, and then sent for as long as the service runs.
  br: promisify((text: Buffer, done: (error: Error | null, packed: Buffer) => void) =>
    brotliCompress(text, { params: { [levels.BROTLI_PARAM_QUALITY]: levels.BROTLI_MAX_QUALITY } }, done),
  ),
  gzip: promisify((text: Buffer, done: (error: Error | null, packed: Buffer) => void) =>
    gzip(text, { level: levels.Z_BEST_COMPRESSION }, done),
  ),
};

const kinds: Record<string, string> = {
  css: 'text/css; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
};

/**
 * What a page links with its version: the scripts, and the styles put together. Modules import one another by names
 * alone, so theirs stands in the name of the folder; the worker, asked for from the root, is told of it.
 */
function readTexts(version: string): Map<string, Buffer> {
  const scripts = readdirSync(folder).filter((name) => name.endsWith('.js'));
  const texts = new Map(scripts.map((name) => [name, readFileSync(join(folder, name))]));
  for (const [name, parts] of Object.entries(styles))
    texts.set(name, Buffer.concat(parts.map((part) => readFileSync(join(folder, `${part}.css`)))));
  for (const name of modules) texts.set(`waiting-${version}/${name}`, moduleText(name));
  const worker = moduleText('worker.js')
    .toString()
    .replaceAll('/static/waiting/', `/static/waiting-${version}/`);
  texts.set('sw.js', Buffer.from(worker));
  return texts;
}

/** Gives a text as tightly packed as the browser can read it; null when there is none of that name. */
function packer(version: string) {
  const texts = readTexts(version);
  const packed = new Map<string, Promise<Buffer>>();
  return (name: string, accepts: string) => {
    const text = texts.get(name);
    if (!text) return null;
    const encoding = (['br', 'gzip'] as const).find((one) =>
      new RegExp(`\\b${one}\\b(?!;q=0)`).test(accepts),
    );
    const type = kinds[name.split('.').at(-1) ?? ''] ?? 'text/plain';
    if (!encoding) return { type, encoding: null, bytes: Promise.resolve(text) };
    const bytes = packed.get(`${encoding} ${name}`) ?? pack[encoding](text);
    packed.set(`${encoding} ${name}`, bytes);
    return { type, encoding, bytes };
  };
}

const aYear = 'public, max-age=31536000, immutable';

const askEachTime = 'public, max-age=0';

export async function serveAssets(app: FastifyInstance, version: string) {
  // Only a file that is there may be kept: a page that says it is not bears the name of whoever asked.
  await app.register(files, {
    root: folder,
    serve: false,
    dotfiles: 'ignore',
    maxAge: '365d',
    immutable: true,
  });
  const textOf = packer(version);
  const config = { access: 'anyone', beforeSetUp: true } as const;
  const sendText = async (name: string, request: FastifyRequest, reply: FastifyReply, keep: string) => {
    const text = textOf(name, String(request.headers['accept-encoding'] ?? ''));
    if (!text) return null;
    reply.header('cache-control', keep).header('vary', 'accept-encoding').type(text.type);
    if (text.encoding) reply.header('content-encoding', text.encoding);
    return reply.send(await text.bytes);
  };
  app.get<{ Params: { '*': string } }>('/static/*', { config }, async (request, reply) => {
    const path = request.params['*'];
    const sent = await sendText(path, request, reply, aYear);
    if (sent) return sent;
    // Under the version of a page from before an upgrade, or under none: what it is today, not to be kept.
    const [, name] = /^waiting(?:-[0-9a-f]+)?\/([\w-]+\.js)$/.exec(path) ?? [];
    return name ? reply.sendFile(`waiting/${name}`, { maxAge: 0, immutable: false }) : reply.sendFile(path);
  });
  // From the root, so that it may stand between every page and the network.
  app.get('/sw.js', { config }, (request, reply) =>
    sendText('sw.js', request, reply.header('service-worker-allowed', '/'), askEachTime),
  );
}
