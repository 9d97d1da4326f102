import { createHash } from 'node:crypto';
import { chmodSync, closeSync, fsyncSync, mkdirSync, openSync, readSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/** Waits until a file's bytes, or a folder's names, are on the disk. */
export function sync(path: string): void {
  const opened = openSync(path, 'r');
  try {
    fsyncSync(opened);
  } finally {
    closeSync(opened);
  }
}

/** For the owner's eyes only, whatever the umask says. */
export function makePrivateFolder(path: string): void {
  mkdirSync(path, { recursive: true, mode: 0o700 });
  chmodSync(path, 0o700);
}

/** On the disk with its name when it returns, and for the owner's eyes only. */
export function writePrivate(path: string, contents: string | Buffer): void {
  writeFileSync(path, contents, { mode: 0o600 });
  chmodSync(path, 0o600);
  sync(path);
  sync(dirname(path));
}

/** Piece by piece: a database may be larger than the memory. */
export function sha256OfFile(path: string): string {
  const hash = createHash('sha256');
  const piece = Buffer.alloc(1_048_576);
  const opened = openSync(path, 'r');
  try {
    for (;;) {
      const bytes = readSync(opened, piece, 0, piece.length, null);
      if (bytes === 0) return hash.digest('hex');
      hash.update(piece.subarray(0, bytes));
    }
  } finally {
    closeSync(opened);
  }
}
