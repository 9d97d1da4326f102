import csrf from '@fastify/csrf-protection';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Config } from '../config.ts';
import { type CookieSettings, cookieOf } from './cookies.ts';
import { Refusal } from './errors.ts';
import { isFromElsewhere } from './from-elsewhere.ts';

const refused = () =>
  new Refusal(
    403,
    'Not sent',
    'This form came from somewhere else or had been open for too long. Reload the page and send it again.',
  );

function tokenOf(request: FastifyRequest): string | undefined {
  const header = request.headers['csrf-token'];
  if (typeof header === 'string') return header;
  const body = request.body as Record<string, unknown> | undefined;
  if (typeof body?._csrf === 'string') return body._csrf;
  // A multipart form carries it in its address: the body is read only once the request is known to be ours.
  const query = request.query as Record<string, unknown>;
  return typeof query._csrf === 'string' && request.routeOptions.config.upload ? query._csrf : undefined;
}

type Settings = CookieSettings & Pick<Config, 'baseUrl'>;

export async function guardAgainstForgery(app: FastifyInstance, settings: Settings) {
  const { baseUrl } = settings;
  const cookie = cookieOf('broodbench-forms', settings);
  await app.register(csrf, {
    cookieKey: cookie.name,
    cookieOpts: cookie.attributes,
    getToken: tokenOf,
  });
  app.addHook('preValidation', (request: FastifyRequest, reply: FastifyReply, done) => {
    if (request.method === 'GET' || request.method === 'HEAD' || request.is404) return done();
    // A browser does not send such a token by itself, so no other site's page can make it.
    if (request.routeOptions.config.ownToken) return done();
    // What a browser says of where a form comes from is looked at before its token.
    if (isFromElsewhere(request, baseUrl)) return done(refused());
    app.csrfProtection(request, reply, (error?: Error) => done(error ? refused() : undefined));
  });
}
