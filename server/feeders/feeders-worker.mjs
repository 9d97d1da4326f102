// The thread's entrance. Plain JavaScript, because Node 20 starts no thread from a TypeScript file; it teaches the
// thread to read TypeScript and hands over.
import { register } from 'tsx/esm/api';

register();
const { giveWay } = await import('../plumbing/give-way.ts');
giveWay();
const { feeders } = await import('../../shared/feeders/feeders.ts');

export default feeders;
