import type { FastifyInstance, FastifyRequest } from 'fastify';
import { drain } from './drain.ts';
import { type Again, Refusal } from './errors.ts';
import type { Pausing } from './pause.ts';

/** Nothing is written while the records are only read. */
export class Paused extends Refusal {}

/** After so many seconds programs may ask again; people read in the banner what is known. */
const comeBackSeconds = '60';

/** What nobody should read over a shoulder, or find in a page that stays open. */
const isSecret = /password|secret|token|recovery|^code$/i;

/** A form that came as text; files would have to be chosen again, and the browser still has them. */
function sentForm(request: FastifyRequest): Again | null {
  const { body } = request;
  if (!body || typeof body !== 'object' || request.routeOptions.config.ownToken) return null;
  const fields = Object.entries(body).flatMap(([name, values]) =>
    [values].flat().map((value) => [name, String(value)] as const),
  );
  return fields.some(([name]) => isSecret.test(name)) ? null : { action: request.url, fields };
}

const nothingSaved = 'Nothing was saved: the records are only read for a while, and can be read as before.';
const signInWaits =
  'Nobody can sign in while the records are only read. Whoever was signed in before goes on reading.';

/**
 * Refuses every form while the records are only read, with all that was typed in it on the page that says so. Only once the
 * form is known to be ours (see forgery.ts): what strangers send is not shown to anybody.
 */
export function refuseWhilePaused(app: FastifyInstance, pausing: Pausing): void {
  app.addHook('preHandler', async (request, reply) => {
    if (request.method === 'GET' || request.method === 'HEAD' || request.is404) return;
    const url = request.routeOptions.url ?? '';
    // Whoever leaves a machine that others use must be able to; see `end` in sessions.ts.
    if (!pausing.now() || url === '/sign-out') return;
    if (request.routeOptions.config.upload) await drain(request.raw);
    reply.header('retry-after', comeBackSeconds);
    const again = sentForm(request);
    const why = url === '/sign-in' ? signInWaits : nothingSaved;
    const next = again
      ? 'What you typed is kept on this page: leave it open, and send it again later.'
      : 'Leave this page open and reload it later: the browser then sends all of it again.';
    throw new Paused(503, 'Not just now', `${why} ${next}`, again);
  });
}
