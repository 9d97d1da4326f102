import type { Printed, PrintOptions } from '../../views/documents/print-options.ts';
import type { Business, StaffCall } from './call.ts';
import { Refusal } from './errors.ts';

const mayWait = 12;
let waiting = 0;
let last: Promise<unknown> = Promise.resolve();

/** One print at a time, and a short queue: setting a page takes the processor, and others want their pages too. */
export async function inTurn(make: () => Promise<Printed>): Promise<Printed> {
  if (waiting >= mayWait)
    throw new Refusal(
      503,
      'Busy printing',
      'Too many papers are being made just now. Wait a few seconds and try again.',
    );
  waiting += 1;
  const mine = last.then(make);
  last = mine
    .catch(() => undefined)
    .finally(() => {
      waiting -= 1;
    });
  return mine;
}

/** For whom papers are printed, and when. */
export type Printing = Pick<StaffCall, 'business' | 'today' | 'clock'>;

/** How papers are printed: as the business reads, or as a customer does. */
export function printOptions(call: Printing, reader: Pick<Business, 'units' | 'paper'>): PrintOptions {
  return {
    paper: reader.paper,
    units: reader.units,
    locale: call.business.locale,
    businessName: call.business.name,
    printedOn: call.today,
    createdAt: call.clock.now(),
  };
}

/** Whether a phone on the bench could open that address. */
export const isOnlyHere = (address: string) => /^https?:\/\/(localhost|127\.|\[::1\])/.test(address);
