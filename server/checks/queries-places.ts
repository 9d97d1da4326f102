import { ne } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { cultures } from '../schema/tables.ts';

/** On which place each kept culture stands, by its code. */
export const placesOfCultures = (db: Db): Map<string, number | null> =>
  new Map(
    db
      .select({ code: cultures.code, placeId: cultures.placeId })
      .from(cultures)
      .where(ne(cultures.status, 'retired'))
      .all()
      .map(({ code, placeId }) => [code, placeId]),
  );
