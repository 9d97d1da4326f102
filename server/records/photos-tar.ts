import { nextPhoto } from '../counts/queries-photos.ts';
import type { Db } from '../plumbing/open-database.ts';

const blockBytes = 512;

const octal = (value: number, digits: number) => `${value.toString(8).padStart(digits, '0')}\0`;

/** The head of one file in a tar archive (POSIX.1-1988 ustar, IEEE Std 1003.1 "pax", ustar interchange format). */
export function tarHead(name: string, size: number, madeAt: number): Buffer {
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
const fileName = (photo: { id: number; code: string; onDay: string }) =>
  `${photo.onDay}-${photo.code.replace(/[^A-Za-z0-9-]+/g, '_')}-photo-${photo.id}.jpg`;

/** Every photo that a count was made on as one archive, read one by one; `everything.json` has their taps by their ids. */
export function* photosTar(db: Db): Generator<Buffer> {
  let photo = nextPhoto(db, 0);
  while (photo) {
    yield tarHead(fileName(photo), photo.bytes.length, photo.madeAt);
    yield photo.bytes;
    yield Buffer.alloc((blockBytes - (photo.bytes.length % blockBytes)) % blockBytes);
    photo = nextPhoto(db, photo.id);
  }
  yield Buffer.alloc(2 * blockBytes);
}
