import { chmodSync, closeSync, existsSync, openSync, rmSync, statfsSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Clock } from './clock.ts';
import { Refusal } from './errors.ts';

/** How full the disk of the data is. */
export type Disk = {
  /** Null where the system does not say. */
  freeBytes(): number | null;
  /** So full that nothing more is written. */
  isLow(): boolean;
  /** Gives back the room that was kept for this moment: a database cannot even shrink on a full disk. */
  giveReserve(): void;
};

const reserveName = 'reserve';
const reserveBytes = 16_000_000;
const askEveryMs = 2_000;

type Free = (folder: string) => number;
const freeOf: Free = (folder) => {
  const { bavail, bsize } = statfsSync(folder);
  return bavail * bsize;
};

/** Written out, not only as long: an empty stretch of a file takes no room and gives none back. */
function writeReserve(path: string): void {
  const opened = openSync(path, 'w', 0o600);
  try {
    const piece = Buffer.alloc(1_000_000, 'room ');
    for (let written = 0; written < reserveBytes; written += piece.length) writeSync(opened, piece);
  } finally {
    closeSync(opened);
  }
  chmodSync(path, 0o600);
}

/** Looks at the disk at most every two seconds, so that a service goes on by itself when there is room again. */
export function watchDisk(o: { folder: string; minFreeBytes: number; clock: Clock; free?: Free }): Disk {
  const { folder, minFreeBytes, clock, free = freeOf } = o;
  const reserve = join(folder, reserveName);
  let askedAt = Number.NEGATIVE_INFINITY;
  let known: number | null = null;
  const disk: Disk = {
    freeBytes() {
      if (Math.abs(clock.now() - askedAt) < askEveryMs) return known;
      askedAt = clock.now();
      try {
        known = free(folder);
      } catch {
        known = null;
      }
      keepReserve();
      return known;
    },
    isLow() {
      const bytes = disk.freeBytes();
      return bytes !== null && bytes < minFreeBytes;
    },
    giveReserve() {
      rmSync(reserve, { force: true });
    },
  };
  const keepReserve = () => {
    if (known === null) return;
    if (known < reserveBytes / 4) disk.giveReserve();
    else if (known > minFreeBytes + 2 * reserveBytes && !existsSync(reserve)) writeReserve(reserve);
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

/** Refuses what writes while the disk is low. */
export function refuseWhenFull(app: FastifyInstance, disk: Disk): void {
  app.addHook('onRequest', async (request: FastifyRequest) => {
    if (request.method === 'GET' || request.method === 'HEAD') return;
    if (goesOn.test(request.routeOptions.url ?? '') || !disk.isLow()) return;
    throw isFull();
  });
}
