// The thread's entrance. Plain JavaScript, because Node 20 starts no thread from a TypeScript file; it teaches the thread
// to read TypeScript and hands over.
import { register } from 'tsx/esm/api';

register();
const { giveWay } = await import('./give-way.ts');
giveWay();
const { printJob } = await import('./print-job.ts');

export default ({ job, port }) => printJob(job, port);
