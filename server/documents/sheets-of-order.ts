import type { CareSheetData } from '../../views/documents/care-sheet-data.ts';
import type { LoadedOrder } from '../orders/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { PaperReader, Printing } from '../plumbing/printing.ts';
import { careSheetsOf } from './assemble-packing.ts';
import { arrivalCardOf, printCare, readerOf, sortedSheets } from './care-print.ts';
import { keptSheetsOf } from './queries-kept.ts';

export type SheetsOfOrder = {
  sheets: CareSheetData[];
  /** Why others are not there. */
  missing: string[];
  reader: PaperReader;
  /** When they were packed, if these are the sheets that lay in the box; null when they are made from what stands now. */
  keptAt: number | null;
  /** The name the business had then. */
  businessName: string | null;
};

/** An order's care sheets: as they lay in the box once it is packed (unless asked otherwise), else as they would be now. */
export function sheetsOfOrder(
  db: Db,
  loaded: LoadedOrder,
  { today, asNow = false }: { today: string; asNow?: boolean },
): SheetsOfOrder {
  const kept = asNow ? null : keptSheetsOf(db, loaded);
  if (!kept)
    return {
      ...sortedSheets(careSheetsOf(db, loaded, today)),
      reader: readerOf(loaded),
      keptAt: null,
      businessName: null,
    };
  const { language, units, paper, businessName } = kept.reader;
  return {
    sheets: kept.sheets,
    missing: [],
    reader: { language, units, paper, country: loaded.customer.country },
    keptAt: kept.keptAt,
    businessName,
  };
}

/**
 * Prints an order's care sheets behind the card for the day they arrive; null when there is no sheet. `link` is what the
 * code on the card opens.
 */
export async function printSheetsOfOrder(
  call: Printing,
  loaded: LoadedOrder,
  { sheets, reader, businessName }: SheetsOfOrder,
  link: string | null = null,
) {
  if (sheets.length === 0) return null;
  const business = { ...call.business, name: businessName ?? call.business.name };
  const card = arrivalCardOf(loaded, sheets, business.email, link);
  return printCare({ ...call, business }, sheets, reader, card);
}
