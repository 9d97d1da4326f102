import { Readable } from 'node:stream';
import { MessageChannel, type MessagePort } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Printed } from '../../views/documents/print-options.ts';
import { Refusal } from './errors.ts';
import type { PrintJob, PrintOutcome } from './print-job.ts';

/** Prints at the same time; a bench has two people at most who wait for paper. */
const most = 2;
/** Prints that may wait for a thread. */
const mostWaiting = 12;
/** A day of sixty parcels takes a few seconds; whatever takes longer than this is broken. */
const patienceMs = 60_000;
/** A connection on which nothing is said is closed soon after: by then the first piece is there, or words. */
const firstPieceMs = 9_000;

const tooSlow = new Refusal(
  503,
  'Busy printing',
  'The machine has too much to do to print just now. Wait a minute and try again.',
);

const full = () =>
  new Refusal(
    503,
    'Busy printing',
    'Too many papers are being made just now. Wait a few seconds and try again.',
  );

const isFull = () => pool !== null && pool.queueSize >= mostWaiting;

/** Where too many wait already, whoever asks for one more is told at once, before anything is looked up for it. */
export function refuseMorePapers(): void {
  if (isFull()) throw full();
}

/** For whoever waits for a paper: told before the line is closed where it takes too long. */
export async function paperInTime<T>(make: () => T | Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(tooSlow), firstPieceMs);
  });
  try {
    return await Promise.race([make(), late]);
  } finally {
    clearTimeout(timer);
  }
}

type Task = { job: PrintJob; port: MessagePort };

let pool: Piscina<Task, PrintOutcome> | null = null;

function threads(): Piscina<Task, PrintOutcome> {
  pool ??= new Piscina<Task, PrintOutcome>({
    filename: new URL('./print-worker.mjs', import.meta.url).href,
    minThreads: 0,
    maxThreads: most,
    concurrentTasksPerWorker: 1,
    idleTimeout: 60_000,
  });
  return pool;
}

/** A print that is being made: its file as it comes, and what came of it. */
export type Printing = { file: Readable; outcome: Promise<PrintOutcome> };

/**
 * Prints in a thread of its own, at most two at once: setting pages takes the processor, and others want their pages too.
 * The file is read while it is made; nobody waits for a slow reader, so the most that lies here is one file.
 */
export function startPrinting(job: PrintJob): Printing {
  const printers = threads();
  refuseMorePapers();
  const { port1, port2 } = new MessageChannel();
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), patienceMs);
  const file = new Readable({
    read: () => undefined,
    // whoever asked has gone: nobody wants the rest
    destroy: (error, done) => {
      if (!file.readableEnded) patience.abort();
      port1.close();
      done(error);
    },
  });
  port1.on('message', (chunk: Uint8Array | null) => {
    if (!file.destroyed) file.push(chunk === null ? null : Buffer.from(chunk));
  });
  const outcome = printers
    .run({ job, port: port2 }, { transferList: [port2], signal: patience.signal })
    .catch((error: unknown) => {
      file.destroy(error instanceof Error ? error : new Error('the print broke off'));
      throw error;
    })
    .finally(() => clearTimeout(timer));
  // whoever reads the file hears of a failure there
  outcome.catch(() => undefined);
  return { file, outcome };
}

/** Papers that are as long as they are. */
type Short = Exclude<PrintJob, { kind: 'care' }>;

/** The whole file and what has to be said of it. */
export async function printWhole(job: Short): Promise<Printed>;
export async function printWhole(job: PrintJob): Promise<Printed | { tooLong: string }>;
export async function printWhole(job: PrintJob): Promise<Printed | { tooLong: string }> {
  const { file, outcome } = startPrinting(job);
  const chunks: Buffer[] = [];
  for await (const chunk of file) chunks.push(chunk as Buffer);
  const came = await outcome;
  return 'tooLong' in came ? came : { pdf: Buffer.concat(chunks), warnings: came.warnings };
}

/** The file as soon as its first piece is there; a print that fails before that is an error, not half a file. */
export async function printStream(job: PrintJob): Promise<Readable> {
  const { file } = startPrinting(job);
  let timer: NodeJS.Timeout | undefined;
  try {
    await new Promise<void>((resolve, reject) => {
      file.once('readable', resolve);
      file.once('error', reject);
      timer = setTimeout(() => reject(tooSlow), firstPieceMs);
    });
    return file;
  } catch (error) {
    file.destroy();
    throw error;
  } finally {
    clearTimeout(timer);
  }
}
