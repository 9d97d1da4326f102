import { PassThrough } from 'node:stream';
import type { FastifyInstance, FastifyReply } from 'fastify';
import { Refusal } from './errors.ts';

/** Shorter than the server's own patience with a connection on which nothing moves. */
const heartbeatMs = 8_000;
/** Then the browser asks again, and is let in again or not: whoever was sent away hears nothing any more. */
const longestMs = 5 * 60_000;
const mostPerPerson = 4;

/** Sends one event: its name and plain data. */
export type Send = (name: string, data: unknown) => void;
/** Begins to send events, and returns what ends it. */
export type Start = (send: Send) => () => void;

type Open = { personId: string; end: () => void };
export type Streams = ReturnType<typeof makeStreams>;

/**
 * Server-sent events (WHATWG HTML, 9.2): a page that stays open hears what changed. A few streams for each person, with
 * a heartbeat, ended after some minutes (the browser begins another by itself) and when the service stops.
 */
export function makeStreams(app: FastifyInstance) {
  const open = new Set<Open>();
  app.addHook('preClose', async () => {
    for (const { end } of [...open]) end();
  });
  return {
    of: (personId: string) => [...open].filter((one) => one.personId === personId).length,
    open(reply: FastifyReply, personId: string, start: Start) {
      if (this.of(personId) >= mostPerPerson)
        throw new Refusal(
          429,
          'Open too often',
          'The round is open on several screens already. Reload to see it.',
        );
      const body = new PassThrough();
      const stop = start((name, data) => body.write(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`));
      const beat = setInterval(() => body.write(': still here\n\n'), heartbeatMs);
      const rest = setTimeout(() => one.end(), longestMs);
      const one: Open = { personId, end: () => body.end() };
      open.add(one);
      body.once('close', () => {
        clearInterval(beat);
        clearTimeout(rest);
        stop();
        open.delete(one);
      });
      body.write('retry: 3000\n\n');
      return (
        reply
          .type('text/event-stream; charset=utf-8')
          .header('cache-control', 'no-store')
          .header('x-accel-buffering', 'no')
          // Nothing else comes over this line: when the stream ends, a service that stops need not wait for it.
          .header('connection', 'close')
          .send(body)
      );
    },
  };
}

/** Only a browser that listens for events is given a stream; a page or a script that asks is answered at once. */
export const listens = (accept: string | undefined): boolean => /\btext\/event-stream\b/.test(accept ?? '');
