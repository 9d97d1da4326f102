import { readRecords } from '../../shared/records/csv.ts';
import { restore } from '../../shared/records/neutralise.ts';

/** The rows of a CSV file of ours by their heads, texts as they were before they were made safe. */
export function readCsv(text: string): Record<string, string>[] {
  const [head, ...rows] = readRecords(text.replace(/^\uFEFF/, ''), ',').records;
  return rows.map(({ cells }) =>
    Object.fromEntries((head?.cells ?? []).map((name, index) => [name, restore(cells[index] ?? '')])),
  );
}
