import { asc, eq } from 'drizzle-orm';
import type { CareSheetData } from '../../views/documents/care-sheet-data.ts';
import { type By, type LoadedOrder, loadOrder } from '../orders/queries.ts';
import { languageOf } from '../orders/queries-reader.ts';
import type { Db } from '../plumbing/open-database.ts';
import { orderCareSheets } from '../schema/tables.ts';
import { readBusiness } from '../settings/queries.ts';
import { keepEnglish } from '../species/queries-care.ts';
import { careSheetsByCulture } from './assemble-packing.ts';
import { keptSheet, toKeep } from './kept-sheet-form.ts';

/** Keeps the care sheets of an order as they go into its box, so that they can be printed again as they were. */
export function keepCareSheets(tx: Db, number: number, by: By): void {
  const loaded = loadOrder(tx, number);
  const { order, customer } = loaded;
  forgetCareSheets(tx, order.id);
  const language = languageOf(loaded);
  const businessName = readBusiness(tx).name;
  for (const { speciesId } of careSheetsByCulture(tx, loaded, by.today))
    keepEnglish(tx, speciesId, { personId: by.personId, at: by.now });
  for (const [position, { cultureId, made }] of careSheetsByCulture(tx, loaded, by.today).entries()) {
    // what cannot be made was said before packing; it is made from what stands then when it is asked for
    if ('why' in made) continue;
    tx.insert(orderCareSheets)
      .values({
        orderId: order.id,
        position,
        cultureId,
        versionId: made.versionId,
        language,
        units: customer.units,
        paper: customer.paper,
        businessName,
        sheet: JSON.stringify(toKeep(made.sheet)),
        madeBy: by.personId,
        madeAt: by.now,
      })
      .run();
  }
}

/** The box was not packed after all: what would have gone into it is of no use. */
export function forgetCareSheets(tx: Db, orderId: number): void {
  tx.delete(orderCareSheets).where(eq(orderCareSheets.orderId, orderId)).run();
}

export type KeptSheets = {
  sheets: CareSheetData[];
  reader: Pick<typeof orderCareSheets.$inferSelect, 'language' | 'units' | 'paper' | 'businessName'>;
  keptAt: number;
};

/** The sheets that lay in an order's box, as they were; null when none are kept. */
export function keptSheetsOf(db: Db, { order, customer }: LoadedOrder): KeptSheets | null {
  const rows = db
    .select()
    .from(orderCareSheets)
    .where(eq(orderCareSheets.orderId, order.id))
    .orderBy(asc(orderCareSheets.position))
    .all();
  const [first] = rows;
  if (!first) return null;
  const whom = { orderNumber: String(order.number), customerName: customer.name, country: customer.country };
  const sheets = rows.map(({ sheet }) => {
    const kept = keptSheet.parse(JSON.parse(sheet));
    return { ...kept, batch: { ...kept.batch, ...whom } };
  });
  return { sheets, reader: first, keptAt: first.madeAt };
}
