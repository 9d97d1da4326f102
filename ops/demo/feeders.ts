import { eq } from 'drizzle-orm';
import { saveFeeder } from '../../server/feeders/queries.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { species } from '../../server/schema/tables.ts';
import { usualFeeder, usualMeal } from '../../shared/feeders/page-form.ts';

const idOf = (tx: Db, scientificName: string) =>
  tx.select({ id: species.id }).from(species).where(eq(species.scientificName, scientificName)).get()?.id;

/** The pseudoscorpions are fed with the flies and springtails of the house. */
export function writeFeeders(tx: Db) {
  const eater = idOf(tx, 'Chelifer cancroides');
  const feeders = [
    ['Drosophila hydei', usualFeeder.fly, usualMeal],
    ['Folsomia candida', usualFeeder.springtail, 150],
  ] as const;
  for (const [name, figures, perWeek] of feeders) {
    const speciesId = idOf(tx, name);
    if (speciesId !== undefined && eater !== undefined)
      saveFeeder(tx, { speciesId, ...figures }, new Map([[eater, perWeek]]));
  }
}
