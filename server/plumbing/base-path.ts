import type { FastifyInstance, FastifyReply } from 'fastify';
import type { JSX } from 'preact';
import { at, under } from '../../views/layout/base-path.ts';
import { renderPage, renderPart } from '../../views/layout/render.ts';

declare module 'fastify' {
  interface FastifyReply {
    /** Answers with a whole page, its addresses as browsers have to ask for them. */
    page(node: JSX.Element): FastifyReply;
    /** Answers with parts of a page, for htmx to swap in. */
    parts(...nodes: JSX.Element[]): FastifyReply;
  }
}

/**
 * An address without the path that the service lives under: `/bench/round` is `/round`. One that does not begin with it
 * stays as it is: some reverse proxies take the path off themselves, and health is asked for beside them.
 */
export function withoutBase(url: string, basePath: string): string {
  if (basePath === '' || !url.startsWith(basePath)) return url;
  const rest = url.slice(basePath.length);
  if (rest.startsWith('/')) return rest;
  return rest === '' || rest.startsWith('?') ? `/${rest}` : url;
}

/** What a browser goes to by itself. */
const headersWithAddresses = [
  'location',
  'hx-redirect',
  'hx-location',
  'hx-push-url',
  'hx-replace-url',
  'service-worker-allowed',
];

/** An address of a page would also mean one below the path: nobody could tell which is asked for. */
class TakenPath extends Error {
  override name = 'CannotStart';
}

/**
 * All that the service says passes here on its way out. Inside, every address is as if it stood at the root of its host;
 * pages and headers get the path in front where they leave. See `rewriteUrl` in app.ts for the way in.
 */
export function liveUnder(app: FastifyInstance, basePath: string) {
  app.decorateReply('page', function (this: FastifyReply, node: JSX.Element) {
    return this.type('text/html; charset=utf-8').send(under(basePath, () => renderPage(node)));
  });
  app.decorateReply('parts', function (this: FastifyReply, ...nodes: JSX.Element[]) {
    return this.type('text/html; charset=utf-8').send(under(basePath, () => renderPart(...nodes)));
  });
  if (basePath === '') return;
  app.addHook('onRequest', async (request, reply) => {
    // The cookies are those of /bench/, which a browser does not send to /bench.
    const [path, query] = request.originalUrl.split('?', 2);
    if (path === basePath) return reply.redirect(query === undefined ? '/' : `/?${query}`, 308);
  });
  app.addHook('onSend', async (_request, reply) => {
    for (const name of headersWithAddresses) {
      const address = reply.getHeader(name);
      if (typeof address === 'string') reply.header(name, at(basePath, address));
    }
  });
  app.addHook('onReady', async () => {
    const taken = app.surface.find(({ path }) => `${path}/`.startsWith(`${basePath}/`));
    if (taken)
      throw new TakenPath(
        `BASE_URL: its path ${basePath} is also the address of a page of the service (${taken.path}). Choose another, like /bench.`,
      );
  });
}
