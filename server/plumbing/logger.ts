import type { FastifyRequest } from 'fastify';
import pino from 'pino';
import type { Config } from '../config.ts';

/** Lines that wait while standard output takes none, in letters; what comes on top of that is lost. */
const mostWaiting = 1_000_000;

/**
 * Standard output. When that is a file on a full disk, a line that cannot be written would end the process, and the
 * pages with it; so people go on reading, and the lines that waited are written when there is room.
 */
function lastingOutput() {
  const stream = pino.destination({ fd: 1, sync: false, maxLength: mostWaiting });
  stream.on('error', () => {});
  return stream;
}

export const loggerOf = (level: Config['logLevel']) => ({
  level,
  ...(level !== 'silent' && { stream: lastingOutput() }),
  // Addresses carry tokens (invitations) and people's words (searches): only the path's pattern is logged.
  serializers: {
    req: (r: FastifyRequest) => ({ method: r.method, route: r.routeOptions?.url ?? 'unknown' }),
  },
});
