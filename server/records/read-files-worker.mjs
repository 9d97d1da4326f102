// The thread's entrance. Plain JavaScript, because Node 20 starts no thread from a TypeScript file; it teaches the
// thread to read TypeScript and hands over. A file that cannot be read comes back as plain data: an error's own fields
// would be lost on the way.
import { register } from 'tsx/esm/api';

register();
const { giveWay } = await import('../plumbing/give-way.ts');
giveWay();
const { readFiles } = await import('./read-files.ts');
const { RecordsError } = await import('../../shared/records/limits.ts');

export default (input) => {
  try {
    return { reading: readFiles(input) };
  } catch (error) {
    if (!(error instanceof RecordsError)) throw error;
    const { kind, message, line } = error;
    return { refused: { kind, message, line } };
  }
};
