import { CareSheetsTooLong, careSheets } from '../../views/documents/care-sheet.ts';
import type { CareSheetData } from '../../views/documents/care-sheet-data.ts';
import type { LoadedOrder } from '../orders/queries.ts';
import { Refusal } from '../plumbing/errors.ts';
import { inTurn, type Printing, printOptions } from '../plumbing/printing.ts';
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
  reader: LoadedOrder['customer'] | null,
) {
  try {
    return await inTurn(() => careSheets(sheets, printOptions(call, reader ?? call.business)));
  } catch (error) {
    if (error instanceof CareSheetsTooLong) throw new Refusal(422, 'Does not fit', error.message);
    throw error;
  }
}
