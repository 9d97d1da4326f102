import type { IncomingMessage } from 'node:http';
import type { Socket } from 'node:net';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { openLines } from './open-lines.ts';

/**
 * How long the body of a request may take: of a form, and of files that somebody who was let in sends; and how long
 * somebody may read nothing of an answer.
 */
export const patience = { formMs: 13_000, uploadMs: 240_000, readerMs: 12_000 };
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

const tooLarge = () => Object.assign(new Error('the body is too large'), { statusCode: 413 });

/** A file is cut off where it is too large, but the reader of forms would go on reading what is dropped, for hours. */
function endFlood({ raw, routeOptions }: Pick<FastifyRequest, 'raw' | 'routeOptions'>) {
  const most = routeOptions.bodyLimit;
  if (!most) return;
  let bytes = 0;
  const count = (chunk: Buffer) => {
    bytes += chunk.length;
    if (bytes <= most) return;
    raw.off('data', count);
    raw.emit('error', tooLarge());
  };
  // Whoever reads the form hears of it; where nobody does, the line just ends.
  raw.on('data', count).on('error', () => undefined);
}

/** Whoever sends this was let in and may send files: they may take their time, but send no more than the route takes. */
export function allowUpload(
  request: Pick<FastifyRequest, 'raw' | 'routeOptions'>,
  uploadMs = patience.uploadMs,
) {
  const { raw } = request;
  if (hasBody(raw)) endFlood(request);
  const one = waiting.get(raw);
  if (!one) return;
  clearTimeout(one.timer);
  one.timer = setTimeout(one.giveUp, uploadMs).unref();
  raw.socket.setTimeout(silentMs);
}

const lookAtReadersMs = 1_000;

/**
 * How far an answer has got on its way out: goes on while somebody reads, however slowly. The driver's own queue tells of
 * parts of a piece; where it should be missing one day, only whole pieces count.
 */
function sentOf(line: Socket): string {
  const handle: unknown = Reflect.get(line, '_handle');
  const queued: unknown = handle ? Reflect.get(handle, 'writeQueueSize') : undefined;
  return `${line.bytesWritten} ${line.writableLength} ${typeof queued === 'number' ? queued : ''}`;
}

/**
 * Shuts the line of whoever asked for something and reads nothing of it, as what was made for them lies here meanwhile.
 * The server's own time for a silent line counts twice for those: a piece that has gone out in part begins it anew.
 */
export function limitReaders(app: FastifyInstance, readerMs = patience.readerMs) {
  const lines = openLines(app.server);
  const seen = new WeakMap<Socket, { sent: string; at: number }>();
  const look = () => {
    const now = performance.now();
    for (const line of lines) {
      if (line.writableLength === 0) {
        seen.delete(line);
        continue;
      }
      const sent = sentOf(line);
      const last = seen.get(line);
      if (last?.sent !== sent) seen.set(line, { sent, at: now });
      else if (now - last.at > readerMs) line.destroy();
    }
  };
  const timer = setInterval(look, Math.min(lookAtReadersMs, readerMs / 4)).unref();
  app.addHook('onClose', async () => clearInterval(timer));
}
