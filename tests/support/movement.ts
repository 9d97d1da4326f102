import { max } from 'drizzle-orm';
import { insertRule, type MovementValues } from '../../server/movement/queries-rules.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { movementRules } from '../../server/schema/tables.ts';
import { testNow } from './test-app.ts';

/** A checked rule that forbids everything everywhere, changed by what a test names. Invented: no law says so. */
export function makeRule(db: Db, overrides: Partial<MovementValues> = {}): number {
  const { last } = db
    .select({ last: max(movementRules.id) })
    .from(movementRules)
    .get()!;
  const rule: MovementValues = {
    name: `Rule ${(last ?? 0) + 1}`,
    fromCountry: null,
    fromRegion: null,
    toCountry: null,
    toRegion: null,
    border: 'any',
    about: 'all',
    animalGroup: null,
    genus: null,
    speciesId: null,
    effect: 'block',
    words: 'None of these may be sent.',
    source: 'an office at example.org',
    checkedOn: '2026-11-01',
    permitNumber: '',
    permitExpiresOn: null,
    ...overrides,
  };
  return insertRule(db, rule, testNow);
}
