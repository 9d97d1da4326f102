import { sql } from 'drizzle-orm';
import { allocations } from '../schema/tables.ts';

/**
 * Promised and not yet packed. Written out, not bound: the index of open promises holds for exactly these words, and
 * a bound value would read every promise ever made.
 */
export const isOpen = sql`${allocations.state} = 'reserved'`;
