import { Refusal } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type LoadedCulture, loadCulture } from './queries.ts';

/** Loads a culture to work on it. A retired one is not worked on any more; `done` says what is not: 'counted'. */
export function loadKeptCulture(db: Db, code: string, done: string): LoadedCulture {
  const loaded = loadCulture(db, code);
  if (loaded.culture.status !== 'retired') return loaded;
  const mend = 'If it should not be, take the retirement out of its diary.';
  throw new Refusal(
    409,
    'Retired',
    `${loaded.culture.code} is retired: nothing is ${done} there any more. ${mend}`,
  );
}
