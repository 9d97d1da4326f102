/** What can be wrong with the database beneath a request, by the driver's code (sqlite.org/rescode.html). */
export type DatabaseFault = 'busy' | 'full' | 'readonly' | 'damaged';

const kinds: readonly (readonly [RegExp, DatabaseFault])[] = [
  [/^SQLITE_(BUSY|LOCKED)/, 'busy'],
  [/^SQLITE_FULL/, 'full'],
  [/^SQLITE_(READONLY|CANTOPEN|PERM)/, 'readonly'],
  // A disk that cannot be read is no better than one on which something else stands.
  [/^SQLITE_(CORRUPT|NOTADB|IOERR)/, 'damaged'],
];

export function databaseFaultOf(error: unknown): DatabaseFault | null {
  if (!(error instanceof Error)) return null;
  // The query builder wraps some of the driver's errors.
  if (error.name !== 'SqliteError') return error.cause ? databaseFaultOf(error.cause) : null;
  const { code = '' } = error as { code?: string };
  // A disk that is full while a page is written out is an error of input and output to SQLite.
  if (/^SQLITE_IOERR_(WRITE|FSYNC|TRUNCATE|SHMSIZE)/.test(code)) return 'full';
  return kinds.find(([pattern]) => pattern.test(code))?.[1] ?? null;
}

/**
 * For what a page writes in passing (a notice that was shown, how long a session lives): a page that can be read is
 * better than none. True when it was written.
 */
export function inPassing(write: () => void): boolean {
  try {
    write();
    return true;
  } catch (error) {
    const fault = databaseFaultOf(error);
    if (fault === null || fault === 'damaged') throw error;
    return false;
  }
}
