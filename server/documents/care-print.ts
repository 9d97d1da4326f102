import type { ArrivalCard } from '../../views/documents/arrival-page.ts';
import { type CareSheetData, langOfPart } from '../../views/documents/care-sheet-data.ts';
import type { LoadedOrder } from '../orders/queries.ts';
import { languageOf } from '../orders/queries-reader.ts';
import { Refusal } from '../plumbing/errors.ts';
import { printWhole } from '../plumbing/print-in-thread.ts';
import { type PaperReader, type Printing, printOptionsFor } from '../plumbing/printing.ts';
import type { Assembled } from './assemble-care.ts';

/** The sheets that can be made, and why the others cannot. */
export function sortedSheets(assembled: readonly Assembled[]): {
  sheets: CareSheetData[];
  missing: string[];
} {
  return {
    sheets: assembled.flatMap((one) => ('sheet' in one ? [one.sheet] : [])),
    missing: [...new Set(assembled.flatMap((one) => ('why' in one ? [one.why] : [])))],
  };
}

export async function printCare(
  call: Printing,
  sheets: CareSheetData[],
  reader: PaperReader,
  card: ArrivalCard | null = null,
) {
  const printed = await printWhole({ kind: 'care', sheets, options: printOptionsFor(call, reader), card });
  if ('tooLong' in printed) throw new Refusal(422, 'Does not fit', printed.tooLong);
  return printed;
}

/** An order's customer as a reader: in the order's language where it has one of its own. */
export const readerOf = (loaded: LoadedOrder): PaperReader => ({
  ...loaded.customer,
  language: languageOf(loaded),
});

/** The card that lies on top in an order's box. */
export function arrivalCardOf(
  { order, customer }: LoadedOrder,
  sheets: readonly CareSheetData[],
  reachAt: string,
  link: string | null = null,
): ArrivalCard | null {
  const [first] = sheets;
  if (!first?.batch) return null;
  return {
    orderNumber: String(order.number),
    customerName: customer.name,
    country: customer.country,
    packedOn: first.batch.packedOn,
    contents: sheets.map((sheet) => ({
      commonName: sheet.commonName,
      nameLang: langOfPart(sheet, 'name'),
      scientificName: sheet.scientificName,
      cultureCode: sheet.batch?.cultureCode ?? '',
      line: sheet.batch?.line ?? '',
    })),
    reachAt,
    link,
  };
}
