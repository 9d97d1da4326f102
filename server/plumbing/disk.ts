import {
  chmodSync,
  closeSync,
  existsSync,
  openSync,
  renameSync,
  rmSync,
  statfsSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Clock } from './clock.ts';
import { Refusal } from './errors.ts';

/** How full the disk of the data is. */
export type Disk = {
  /** Null where the system does not say. */
  freeBytes(): number | null;
  /** So little is left that the owner should make room soon. */
  isGettingFull(): boolean;
  /** So full that nothing more is written. */
  isLow(): boolean;
  /** Gives back the room that was kept for this moment: a database cannot even shrink on a full disk. */
  giveReserve(): void;
};

const reserveName = 'reserve';
const reserveBytes = 16_000_000;
const askEveryMs = 2_000;

type Room = { free: number; total: number };
type Ask = (folder: string) => Room;
const roomOf: Ask = (folder) => {
  const { bavail, blocks, bsize } = statfsSync(folder);
  return { free: bavail * bsize, total: blocks * bsize };
};

/** A tenth of the disk, but no less than a gigabyte, and no more than ten: a tenth of a large disk lasts for years. */
const littleOf = (total: number) => Math.min(Math.max(total / 10, 1e9), 10e9);

/** Whatever is wrong with the disk then is said elsewhere; a page that is only read must not fail over the reserve. */
function leaveBe(work: () => void): void {
  try {
    work();
  } catch {
    // A disk that is read-only, full after all, or not ours: there is no reserve on it then.
  }
}

/** Written out, not only as long: an empty stretch of a file takes no room and gives none back. */
function writeReserve(path: string): void {
  const begun = `${path}-begun`;
  try {
    const opened = openSync(begun, 'w', 0o600);
    try {
      const piece = Buffer.alloc(1_000_000, 'room ');
      for (let written = 0; written < reserveBytes; written += piece.length) writeSync(opened, piece);
    } finally {
      closeSync(opened);
    }
    chmodSync(begun, 0o600);
    renameSync(begun, path);
  } catch {
    leaveBe(() => rmSync(begun, { force: true }));
  }
}

/** Looks at the disk at most every two seconds, so that a service goes on by itself when there is room again. */
export function watchDisk(o: { folder: string; minFreeBytes: number; clock: Clock; ask?: Ask }): Disk {
  const { folder, minFreeBytes, clock, ask = roomOf } = o;
  const reserve = join(folder, reserveName);
  let askedAt = Number.NEGATIVE_INFINITY;
  let known: Room | null = null;
  const disk: Disk = {
    freeBytes() {
      if (Math.abs(clock.now() - askedAt) < askEveryMs) return known?.free ?? null;
      askedAt = clock.now();
      try {
        known = ask(folder);
      } catch {
        known = null;
      }
      keepReserve();
      return known?.free ?? null;
    },
    isGettingFull() {
      const bytes = disk.freeBytes();
      return bytes !== null && known !== null && bytes < littleOf(known.total);
    },
    isLow() {
      const bytes = disk.freeBytes();
      return bytes !== null && bytes < minFreeBytes;
    },
    giveReserve() {
      leaveBe(() => rmSync(reserve, { force: true }));
    },
  };
  const keepReserve = () => {
    if (known === null) return;
    if (known.free < reserveBytes / 4) disk.giveReserve();
    else if (known.free > minFreeBytes + 2 * reserveBytes && !existsSync(reserve)) writeReserve(reserve);
  };
  return disk;
}

/** Signing in and out take a few bytes, and whoever is to read on, or to make room, must be let in. */
const goesOn = /^\/sign-(in|out)$/;

export const isFull = () =>
  new Refusal(
    507,
    'The disk is nearly full',
    'Nothing was saved: the disk of the service is nearly full. Everything can be read as before. Whoever runs the service makes room on it; then send this again.',
  );

const sayEveryMs = 3_600_000;

/** Refuses what writes while the disk is low, and says so in the log once an hour. */
export function refuseWhenFull(app: FastifyInstance, disk: Disk, clock: Clock): void {
  let saidAt = Number.NEGATIVE_INFINITY;
  app.addHook('onRequest', async (request: FastifyRequest) => {
    if (request.method === 'GET' || request.method === 'HEAD') return;
    if (goesOn.test(request.routeOptions.url ?? '') || !disk.isLow()) return;
    if (Math.abs(clock.now() - saidAt) >= sayEveryMs) {
      saidAt = clock.now();
      request.log.error(
        { freeBytes: disk.freeBytes() },
        'the disk is nearly full: nothing is saved until there is room',
      );
    }
    throw isFull();
  });
}
