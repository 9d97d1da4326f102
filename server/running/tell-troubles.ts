import { tellTrouble } from '../mails/queries-tell.ts';
import type { Keeper } from '../plumbing/backups.ts';
import type { Clock } from '../plumbing/clock.ts';
import { inPassing } from '../plumbing/database-faults.ts';
import type { Disk } from '../plumbing/disk.ts';
import type { Db } from '../plumbing/open-database.ts';
import { isSetUp } from '../settings/queries.ts';

export type TroubleParts = { db: Db; clock: Clock; keeper: Keeper; disk: Disk };

/** Late, and not only because none was tried yet or one is being made. */
const backupsFail = (keeper: Keeper) =>
  keeper.isLate() && !keeper.progress() && (keeper.lastFailure() !== null || keeper.lastProvenAt() !== null);

/**
 * Writes to the business what the banners on the owner's pages say, for an owner who is not looking at one: once a day
 * at most for each. A disk that is full already takes no letter; that is why it is written before.
 */
export function tellTroubles({ db, clock, keeper, disk }: TroubleParts): void {
  if (!isSetUp(db)) return;
  const now = clock.now();
  const free = disk.freeBytes();
  if (free !== null && disk.isGettingFull())
    inPassing(() => tellTrouble(db, { about: 'disk', leftMb: Math.floor(free / 1e6) }, now));
  if (!backupsFail(keeper)) return;
  const why = keeper.lastFailure()?.why ?? null;
  inPassing(() => tellTrouble(db, { about: 'backup', provenAt: keeper.lastProvenAt(), why }, now));
}
