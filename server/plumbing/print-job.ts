import type { MessagePort } from 'node:worker_threads';
import type { ArrivalCard } from '../../views/documents/arrival-page.ts';
import type { BenchList } from '../../views/documents/bench-list.ts';
import { CareSheetsTooLong, careSheets } from '../../views/documents/care-sheet.ts';
import type { CareSheetData } from '../../views/documents/care-sheet-data.ts';
import { invoicePaper } from '../../views/documents/invoice.ts';
import type { InvoiceDoc, Receipt } from '../../views/documents/invoice-data.ts';
import { type LabelPrint, labelSheets } from '../../views/documents/label-sheet.ts';
import { type OfferList, offerListPaper } from '../../views/documents/offer-list.ts';
import { writePackingSheets } from '../../views/documents/packing-sheet.ts';
import type { PackingSheetData } from '../../views/documents/packing-sheet-data.ts';
import type { Printed, PrintOptions } from '../../views/documents/print-options.ts';

/** What is to be printed: plain data, since it goes to another thread. */
export type PrintJob =
  | { kind: 'packing'; orders: PackingSheetData[]; options: PrintOptions; bench: BenchList | null }
  | { kind: 'care'; sheets: CareSheetData[]; options: PrintOptions; card: ArrivalCard | null }
  | { kind: 'labels'; labels: LabelPrint; options: PrintOptions }
  | { kind: 'invoice'; doc: InvoiceDoc; options: PrintOptions; receipt: Receipt | null }
  | { kind: 'offers'; list: OfferList; options: PrintOptions };

/** What comes back at the end; the pages themselves come through the port. An error's own fields would be lost. */
export type PrintOutcome = { warnings: string[] } | { tooLong: string };

/** Prints in this thread and hands the file on piece by piece. */
export async function printJob(job: PrintJob, port: MessagePort): Promise<PrintOutcome> {
  const send = (chunk: Uint8Array) => {
    // a copy of its own: what the library hands out may lie in a pool that it uses again
    const bytes = Uint8Array.from(chunk);
    port.postMessage(bytes, [bytes.buffer]);
  };
  const outcome = await print(job, send);
  // the end of the file; one that breaks off never says so
  port.postMessage(null);
  return outcome;
}

function whole(job: Exclude<PrintJob, { kind: 'packing' }>): Promise<Printed> {
  switch (job.kind) {
    case 'care':
      return careSheets(job.sheets, job.options, job.card);
    case 'labels':
      return labelSheets(job.labels, job.options);
    case 'invoice':
      return invoicePaper(job.doc, job.options, job.receipt);
    case 'offers':
      return offerListPaper(job.list, job.options);
  }
}

async function print(job: PrintJob, send: (chunk: Uint8Array) => void): Promise<PrintOutcome> {
  if (job.kind === 'packing')
    return { warnings: await writePackingSheets(job.orders, job.options, job.bench, send) };
  try {
    const { pdf, warnings } = await whole(job);
    send(pdf);
    return { warnings };
  } catch (error) {
    if (error instanceof CareSheetsTooLong) return { tooLong: error.message };
    throw error;
  }
}
