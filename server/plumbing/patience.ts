import type { IncomingMessage } from 'node:http';
import type { FastifyInstance, FastifyRequest } from 'fastify';

/** How long the body of a request may take: of a form, and of files that somebody who was let in sends. */
export const patience = { formMs: 13_000, uploadMs: 240_000 };
/** How long a line may be silent in the middle of a file: weak Wi-Fi drops out for a while and comes back. */
const silentMs = 30_000;

/** What the server itself waits for any request: longer than ours, so that ours decide. */
export const longestRequestMs = patience.uploadMs + 10_000;

type Waiting = { timer: NodeJS.Timeout; giveUp: () => void };
const waiting = new WeakMap<IncomingMessage, Waiting>();

const hasBody = ({ headers }: IncomingMessage) =>
  headers['transfer-encoding'] !== undefined || Number(headers['content-length'] ?? 0) > 0;

/**
 * A body that does not arrive in time ends its connection, as the server itself would do it; but the server knows one
 * time for all, and ten megabytes of a photo take minutes where a form takes a moment. Every body gets a form's time,
 * also of somebody who is turned away; a file gets more only once it is known to be wanted (see allowUpload).
 */
export function limitBodies(app: FastifyInstance, formMs = patience.formMs) {
  app.addHook('onRequest', (request, reply, done) => {
    const { raw } = request;
    if (!hasBody(raw)) return done();
    const giveUp = () => {
      if (raw.complete || raw.socket.destroyed) return;
      const late = Object.assign(new Error('the body did not arrive in time'), {
        code: 'ERR_HTTP_REQUEST_TIMEOUT',
      });
      if (reply.sent) raw.socket.destroy();
      else app.server.emit('clientError', late, raw.socket);
    };
    const timer = setTimeout(giveUp, formMs).unref();
    waiting.set(raw, { timer, giveUp });
    const stop = () => {
      clearTimeout(waiting.get(raw)?.timer);
      waiting.delete(raw);
    };
    raw.once('end', stop).once('close', stop);
    done();
  });
}

/** Whoever sends this was let in and may send files: they may take their time. */
export function allowUpload({ raw }: Pick<FastifyRequest, 'raw'>, uploadMs = patience.uploadMs) {
  const one = waiting.get(raw);
  if (!one) return;
  clearTimeout(one.timer);
  one.timer = setTimeout(one.giveUp, uploadMs).unref();
  raw.socket.setTimeout(silentMs);
}
