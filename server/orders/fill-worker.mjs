// The thread's entrance. Plain JavaScript, because Node 20 starts no thread from a TypeScript file; it teaches the
// thread to read TypeScript and hands over. A question that is too large comes back as plain data: an error's own fields
// would be lost on the way.
import { register } from 'tsx/esm/api';

register();
const { giveWay } = await import('../plumbing/give-way.ts');
giveWay();
const { allocate } = await import('../../shared/orders/allocate.ts');
const { CalculationError } = await import('../../shared/faults.ts');

export default async (question) => {
  try {
    return { answer: await allocate(question) };
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    return { tooLarge: true };
  }
};
