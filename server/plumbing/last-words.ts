import type { EventEmitter } from 'node:events';

type Log = { error(o: object, m: string): void };

/**
 * What no request and no job has caught is a fault of ours and is written into the log like any other. A promise that
 * nobody waited for has hurt nothing else, so the service goes on; after an exception that went past everybody nothing
 * is sure any more, so it ends in good order and the service manager starts it anew.
 */
export function logLastWords(source: EventEmitter, log: Log, stop: (exitCode: number) => void): void {
  source.on('unhandledRejection', (err: unknown) => log.error({ err }, 'nobody waited for this to fail'));
  source.on('uncaughtException', (err: unknown) => {
    log.error({ err }, 'nobody caught this: the service ends and wants to be started anew');
    stop(1);
  });
}
