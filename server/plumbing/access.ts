import type { FastifyContextConfig, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Refusal } from './errors.ts';
import type { Person, Sessions } from './sessions.ts';

export type Access = 'anyone' | 'helper' | 'owner';

export type Address = { method: string; path: string } & FastifyContextConfig;

declare module 'fastify' {
  interface FastifyContextConfig {
    access?: Access;
    nav?: string;
    /** Answers while there is no owner yet; everything else leads to the set-up page then. */
    beforeSetUp?: boolean;
    /** Answers somebody who is asked for a second factor and has none yet. */
    beforeSecondFactor?: boolean;
    upload?: { maxBytes: number };
    /** Whoever calls brings a token of its own with each request; no browser acts here by its cookies. */
    ownToken?: true;
  }
  interface FastifyInstance {
    /** Every address that is answered, as it was registered: what the tests walk. */
    surface: Address[];
  }
  interface FastifyRequest {
    who: Person | null;
    sessionId: string | null;
  }
}

const mayUse = (access: Access, who: Person | null) =>
  access === 'anyone' || (who !== null && (access === 'helper' || who.role === 'owner'));

function turnAway(request: FastifyRequest, reply: FastifyReply) {
  if (request.who)
    throw new Refusal(403, 'Not allowed', 'Only the owner can do this. Ask the owner if you need it.');
  // Our own script keeps the form then, so it wants to be told rather than sent elsewhere.
  if (request.headers['by-script']) return reply.code(401).send();
  if (request.headers['hx-request']) return reply.header('HX-Redirect', '/sign-in').code(401).send();
  if (request.method !== 'GET') return reply.redirect('/sign-in', 303);
  return reply.redirect(`/sign-in?next=${encodeURIComponent(request.url.slice(0, 500))}`, 303);
}

/**
 * Denies by default: every route states who may call it, and the start fails for one that does not. Nobody
 * is sent to sign in; a helper is told that a page is the owner's.
 */
export function guardRoutes(
  app: FastifyInstance,
  sessions: Sessions,
  { isSetUp, mustAddFactor }: { isSetUp: () => boolean; mustAddFactor: (who: Person) => boolean },
) {
  const surface: Address[] = [];
  app.decorate('surface', surface);
  app.addHook('onRoute', ({ method, url, config }) => {
    if (!config?.access) throw new Error(`${String(method)} ${url} does not say who may call it.`);
    for (const one of [method].flat()) surface.push({ ...config, method: one, path: url });
  });
  app.decorateRequest('who', null);
  app.decorateRequest('sessionId', null);
  app.addHook('onRequest', async (request, reply) => {
    const found = await sessions.find(request.cookies[sessions.cookieName]);
    request.who = found?.person ?? null;
    request.sessionId = found?.id ?? null;
    if (found?.cookie) reply.header('set-cookie', found.cookie);
    if (request.is404) return;
    const { access, beforeSetUp, beforeSecondFactor } = request.routeOptions.config;
    if (!beforeSetUp && !isSetUp()) return reply.redirect('/set-up', 303);
    if (!access || !mayUse(access, request.who)) return turnAway(request, reply);
    if (access !== 'anyone' && !beforeSecondFactor && request.who && mustAddFactor(request.who)) {
      const to = '/account/second-factor';
      if (request.headers['by-script']) return reply.code(401).send();
      return request.headers['hx-request']
        ? reply.header('HX-Redirect', to).code(204).send()
        : reply.redirect(to, 303);
    }
  });
}
