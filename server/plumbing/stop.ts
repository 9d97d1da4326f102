import type { Server } from 'node:http';

/** Well below what service managers and containers wait before they kill; paper that takes longer is asked for again. */
export const longestStopMs = 4_000;

/**
 * Ends the process in good order at SIGTERM or SIGINT: `finish` lets what is under way end and takes nothing new; what
 * has not ended in time loses its connection; `close` comes last, whatever happened. A second signal changes nothing.
 * Returns what ends it for another reason, with an exit code that tells of it.
 */
export function stopOnSignals(
  finish: () => Promise<void>,
  server: Server,
  close: () => void,
): (exitCode: number) => void {
  let stopping = false;
  const stop = async (exitCode: number) => {
    if (stopping) return;
    stopping = true;
    const late = new Promise<void>((resolve) => {
      setTimeout(() => {
        server.closeAllConnections();
        resolve();
      }, longestStopMs).unref();
    });
    try {
      await Promise.race([finish(), late]);
    } finally {
      close();
      process.exit(exitCode);
    }
  };
  process.on('SIGTERM', () => void stop(0));
  process.on('SIGINT', () => void stop(0));
  return (exitCode) => void stop(exitCode);
}
