import type { LoadedOrder } from '../orders/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { careSheetsOf } from './assemble-packing.ts';

/** Whether there is a care sheet for anything in the order. */
export const hasCareSheets = (db: Db, loaded: LoadedOrder, today: string) =>
  careSheetsOf(db, loaded, today).some((one) => 'sheet' in one);
