import type { BenchList } from '../../views/documents/bench-list.ts';
import { writePackingSheets } from '../../views/documents/packing-sheet.ts';
import type { PackingSheetData } from '../../views/documents/packing-sheet-data.ts';
import type { Printed, PrintOptions } from '../../views/documents/print-options.ts';

/** Packing sheets in one buffer; the service sends them out as they are made. */
export async function packingSheets(
  orders: PackingSheetData[],
  options: PrintOptions,
  bench: BenchList | null = null,
): Promise<Printed> {
  const chunks: Buffer[] = [];
  const warnings = await writePackingSheets(orders, options, bench, (chunk) => chunks.push(chunk));
  return { pdf: Buffer.concat(chunks), warnings };
}
