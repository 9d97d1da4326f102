// The thread's entrance. Plain JavaScript, because Node 20 starts no thread from a TypeScript file; it teaches the
// thread to read TypeScript and hands over. What went wrong comes back as words: an error's own kind would be lost.
import { parentPort, workerData } from 'node:worker_threads';
import { register } from 'tsx/esm/api';

register();
const { giveWay } = await import('../plumbing/give-way.ts');
giveWay();
const { takeBackup } = await import('./take.ts');

try {
  const taken = await takeBackup(workerData, (step, done, total) =>
    parentPort.postMessage({ step, done, total }),
  );
  parentPort.postMessage({ taken });
} catch (error) {
  parentPort.postMessage({ failed: error instanceof Error ? error.message : String(error) });
}
