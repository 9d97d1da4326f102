import type { IncomingMessage } from 'node:http';

const mostBytes = 32_000_000;
const longestMs = 10_000;

/**
 * Reads on what a client still sends of a body that is too large, and drops it. A browser that is answered in the
 * middle of its sending shows "connection reset" in place of the answer. Gives up on a body without end.
 */
export function drain(request: IncomingMessage): Promise<void> {
  if (request.complete || request.destroyed) return Promise.resolve();
  return new Promise((resolve) => {
    let bytes = 0;
    const done = () => {
      clearTimeout(timer);
      request.off('data', count);
      resolve();
    };
    const count = (chunk: Buffer) => {
      bytes += chunk.length;
      if (bytes > mostBytes) done();
    };
    const timer = setTimeout(done, longestMs);
    request.on('data', count).once('end', done).once('close', done).once('error', done);
    request.resume();
  });
}
