import { Worker } from 'node:worker_threads';
import type { BackupStep } from '../plumbing/backups.ts';
import { BadBackup } from './inspect.ts';
import type { Report, Taken, Taking } from './take.ts';

type Message = { taken: Taken } | { failed: string } | { step: BackupStep; done: number; total: number };

/** Like takeBackup, in a thread with a connection of its own: pages are answered meanwhile. */
export function takeInThread(taking: Taking, report: Report = () => {}): Promise<Taken> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./take-worker.mjs', import.meta.url), { workerData: taking });
    // A stop of the service does not wait: what is under way has no name yet and is cleared away later.
    worker.unref();
    worker.on('message', (message: Message) => {
      if ('step' in message) report(message.step, message.done, message.total);
      else if ('taken' in message) resolve(message.taken);
      else reject(new BadBackup(message.failed));
    });
    worker.once('error', reject);
    worker.once('exit', () => reject(new BadBackup('The backup was stopped before it was done.')));
  });
}
