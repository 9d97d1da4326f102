import { and, eq, inArray, sql } from 'drizzle-orm';
import { markOutdated } from '../counts/queries-outdated.ts';
import { applyStanding, forgetFrom } from '../cultures/queries-diary.ts';
import { orderPlaces } from '../places/queries.ts';
import { note } from '../plumbing/audit.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  cultureParents,
  cultures,
  diary,
  enclosures,
  importPrints,
  imports,
  importTouched,
  lines,
  places,
  species,
  standingDiary,
} from '../schema/tables.ts';
import type { By } from './queries-drafts.ts';

/**
 * Takes out exactly what an import brought, in the caller's transaction: its entries, its cultures with their lineage,
 * and what it made of species, enclosures, lines and places that nothing else uses by now. Cultures that were there
 * before stand as they did. Call it only where nothing depends on it.
 */
export function undoImport(tx: Db, importIds: readonly number[], { personId, now }: By): void {
  const ids = [...importIds];
  const ours = inArray(imports.id, ids);
  // The diary lets entries go only while their import is being undone.
  tx.update(imports).set({ state: 'undoing' }).where(ours).run();
  const touched = touchedBy(tx, ids);
  tx.delete(diary).where(inArray(diary.importId, ids)).run();
  const founded = tx.select({ id: cultures.id }).from(cultures).where(inArray(cultures.importId, ids));
  tx.delete(cultureParents).where(inArray(cultureParents.cultureId, founded)).run();
  tx.delete(cultures).where(inArray(cultures.importId, ids)).run();
  putBack(tx, touched);
  tx.delete(importTouched).where(inArray(importTouched.importId, ids)).run();
  removeUnused(tx, ids);
  tx.delete(importPrints).where(inArray(importPrints.importId, ids)).run();
  tx.update(imports).set({ state: 'undone', undoneBy: personId, undoneAt: now }).where(ours).run();
  note(tx, { at: now, personId, action: 'undid', subject: `import ${ids[0]}` });
}

function touchedBy(tx: Db, ids: number[]) {
  const firstDay = sql<string>`(SELECT min(on_day) FROM diary WHERE diary.culture_id = import_touched.culture_id
    AND diary.import_id IN ${ids})`;
  return tx
    .select({
      cultureId: importTouched.cultureId,
      placeId: importTouched.placeId,
      status: importTouched.status,
      firstDay,
    })
    .from(importTouched)
    .where(inArray(importTouched.importId, ids))
    .all();
}

/** Cultures that were there before stand as they stood, or where what is left of their diary has led. */
function putBack(tx: Db, touched: ReturnType<typeof touchedBy>): void {
  for (const { cultureId, placeId, status, firstDay } of touched) {
    forgetFrom(tx, cultureId, firstDay, 0);
    tx.update(cultures).set({ placeId, status }).where(eq(cultures.id, cultureId)).run();
    const standing = ['move', 'quarantine', 'release', 'retirement'] as const;
    const left = and(eq(standingDiary.cultureId, cultureId), inArray(standingDiary.kind, [...standing]));
    if (tx.select({ id: standingDiary.id }).from(standingDiary).where(left).limit(1).get())
      applyStanding(tx, cultureId);
  }
  markOutdated(
    tx,
    touched.map((one) => one.cultureId),
  );
}

/** In the order in which they hold one another; what something else uses by now stays. */
function removeUnused(tx: Db, ids: number[]): void {
  const unusedBy = (table: string, column: string, own: string) =>
    sql`NOT EXISTS (SELECT 1 FROM ${sql.identifier(table)} u WHERE u.${sql.identifier(column)} = ${sql.identifier(own)}.id)`;
  tx.delete(lines)
    .where(
      and(
        inArray(lines.importId, ids),
        unusedBy('cultures', 'line_id', 'lines'),
        unusedBy('lines_apart', 'line_id', 'lines'),
        unusedBy('lines_apart', 'other_line_id', 'lines'),
      ),
    )
    .run();
  tx.delete(species)
    .where(
      and(
        inArray(species.importId, ids),
        unusedBy('cultures', 'species_id', 'species'),
        unusedBy('lines', 'species_id', 'species'),
        unusedBy('order_lines', 'species_id', 'species'),
      ),
    )
    .run();
  tx.delete(enclosures)
    .where(
      and(
        inArray(enclosures.importId, ids),
        unusedBy('cultures', 'enclosure_id', 'enclosures'),
        unusedBy('species', 'home_enclosure_id', 'enclosures'),
        unusedBy('culture_plans', 'enclosure_id', 'enclosures'),
        unusedBy('recipe_layers', 'enclosure_id', 'enclosures'),
      ),
    )
    .run();
  removePlaces(tx, ids, unusedBy);
}

/** The innermost first: a place that holds another is in use. */
function removePlaces(
  tx: Db,
  ids: number[],
  unusedBy: (table: string, column: string, own: string) => ReturnType<typeof sql>,
): void {
  const free = and(
    inArray(places.importId, ids),
    unusedBy('cultures', 'place_id', 'places'),
    unusedBy('diary', 'place_id', 'places'),
    unusedBy('places', 'parent_id', 'places'),
    unusedBy('import_touched', 'place_id', 'places'),
  );
  let removed = 0;
  for (;;) {
    const { changes } = tx.delete(places).where(free).run();
    if (changes === 0) break;
    removed += changes;
  }
  if (removed > 0) orderPlaces(tx);
}
