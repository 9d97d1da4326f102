import type { StaffCall } from './call.ts';
import type { Db } from './open-database.ts';

/** Thrown in a transaction to write nothing after all; carries what the form should say. */
class NotWritten<Why> extends Error {
  constructor(readonly why: Why) {
    super('nothing is written');
  }
}

export type Attempt<T, Why> = { written: T } | { why: Why };

/**
 * Runs `work` once (see Call.once), but `work` may still find, after it has written, that nothing may be written:
 * `stop` takes everything back and the form may be sent again.
 */
export function attempt<T, Why>(
  call: Pick<StaffCall, 'once'>,
  work: (tx: Db, stop: (why: Why) => never) => T,
): Attempt<T, Why> {
  const stop = (why: Why): never => {
    throw new NotWritten(why);
  };
  try {
    return { written: call.once((tx) => work(tx, stop)) };
  } catch (error) {
    if (error instanceof NotWritten) return { why: error.why as Why };
    throw error;
  }
}
