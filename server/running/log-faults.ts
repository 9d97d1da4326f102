import type { Keeper } from '../plumbing/backups.ts';
import type { Clock } from '../plumbing/clock.ts';
import type { DatabaseFault } from '../plumbing/database-faults.ts';
import type { Disk } from '../plumbing/disk.ts';

type Log = { error(o: object, m: string): void };
type Parts = { log: Log; clock: Clock; keeper: Keeper | null; disk: Disk | null };

const everyMs = 3_600_000;

const words: Record<Exclude<DatabaseFault, 'busy'>, string> = {
  full: 'the disk is full: nothing can be saved until there is room',
  readonly:
    'the database cannot be written to: look whose the data folder is and whether its disk is mounted read-only',
  damaged: 'the database is damaged: stop the service and restore the newest good backup (npm run restore)',
};

/** One line for each kind of fault and hour: a page that is asked for a thousand times says nothing new. */
export function logFaults({ log, clock, keeper, disk }: Parts): (fault: DatabaseFault) => void {
  const saidAt = new Map<DatabaseFault, number>();
  return (fault) => {
    if (fault === 'full') disk?.giveReserve();
    if (fault === 'busy') return;
    const now = clock.now();
    if (Math.abs(now - (saidAt.get(fault) ?? Number.NEGATIVE_INFINITY)) < everyMs) return;
    saidAt.set(fault, now);
    const newest = fault === 'damaged' ? keeper?.list().find(({ provenAt }) => provenAt !== null) : undefined;
    log.error({ fault, ...(newest && { backup: newest.folder }) }, words[fault]);
  };
}
