import { nextArrivalPhoto } from '../arrivals/queries-photos.ts';
import { nextPhoto } from '../counts/queries-photos.ts';
import type { Db } from '../plumbing/open-database.ts';

const blockBytes = 512;

const octal = (value: number, digits: number) => `${value.toString(8).padStart(digits, '0')}\0`;

/** The head of one file in a tar archive (POSIX.1-1988 ustar, IEEE Std 1003.1 "pax", ustar interchange format). */
function tarHead(name: string, size: number, madeAt: number): Buffer {
  const head = Buffer.alloc(blockBytes);
  head.write(name.slice(0, 100), 0, 'latin1');
  head.write(octal(0o600, 7), 100, 'latin1');
  head.write(octal(0, 7), 108, 'latin1');
  head.write(octal(0, 7), 116, 'latin1');
  head.write(octal(size, 11), 124, 'latin1');
  head.write(octal(Math.floor(madeAt / 1000), 11), 136, 'latin1');
  head.write(' '.repeat(8), 148, 'latin1');
  head.write('0', 156, 'latin1');
  head.write('ustar\x0000', 257, 'latin1');
  const sum = head.reduce((total, byte) => total + byte, 0);
  head.write(`${octal(sum, 6)} `, 148, 'latin1');
  return head;
}

/** `2026-11-25-PSC-014-photo-7.jpg`: only letters that every file system takes. */
const countName = (photo: NonNullable<ReturnType<typeof nextPhoto>>) =>
  `${photo.onDay}-${photo.code.replace(/[^A-Za-z0-9-]+/g, '_')}-photo-${photo.id}.jpg`;

const arrivalName = (photo: NonNullable<ReturnType<typeof nextArrivalPhoto>>) =>
  `order-${photo.orderNumber}-arrival-photo-${photo.id}.jpg`;

type Photo = { id: number; madeAt: number; bytes: Buffer };

/** Files of one kind, one after the other: only one is in memory. */
function* filesOf<T extends Photo>(
  next: (after: number) => T | undefined,
  nameOf: (photo: T) => string,
): Generator<Buffer> {
  for (let photo = next(0); photo; photo = next(photo.id)) {
    yield tarHead(nameOf(photo), photo.bytes.length, photo.madeAt);
    yield photo.bytes;
    yield Buffer.alloc((blockBytes - (photo.bytes.length % blockBytes)) % blockBytes);
  }
}

/**
 * Every photo that a count was made on, and every one that came with a report of an arrival, as one archive;
 * `everything.json` has what belongs to them by their ids.
 */
export function* photosTar(db: Db): Generator<Buffer> {
  yield* filesOf((after) => nextPhoto(db, after), countName);
  yield* filesOf((after) => nextArrivalPhoto(db, after), arrivalName);
  yield Buffer.alloc(2 * blockBytes);
}
