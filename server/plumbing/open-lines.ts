import type { Server } from 'node:http';
import type { Socket } from 'node:net';

/** The lines of a server that are open, from now on. */
export function openLines(server: Server): ReadonlySet<Socket> {
  const lines = new Set<Socket>();
  server.on('connection', (line: Socket) => {
    lines.add(line);
    line.once('close', () => lines.delete(line));
  });
  return lines;
}
