import { crc32 } from 'node:zlib';

export type ZipEntry = { name: string; bytes: Buffer };

/** Whole seconds since 1980 in the two-second steps of MS-DOS, as the format wants them (APPNOTE 4.4.6); UTC. */
function dosTime(at: number): { time: number; date: number } {
  const day = new Date(Math.max(at, Date.UTC(1980, 0, 1)));
  return {
    time: (day.getUTCHours() << 11) | (day.getUTCMinutes() << 5) | (day.getUTCSeconds() >> 1),
    date: ((day.getUTCFullYear() - 1980) << 9) | ((day.getUTCMonth() + 1) << 5) | day.getUTCDate(),
  };
}

/** What both heads of a file say about it: version 2.0, names in UTF-8, stored as it is. */
function aboutOf({ name, bytes }: ZipEntry, at: number): Buffer {
  const { time, date } = dosTime(at);
  const about = Buffer.alloc(26);
  about.writeUInt16LE(20, 0);
  about.writeUInt16LE(0x0800, 2);
  about.writeUInt16LE(0, 4);
  about.writeUInt16LE(time, 6);
  about.writeUInt16LE(date, 8);
  about.writeUInt32LE(crc32(bytes), 10);
  about.writeUInt32LE(bytes.length, 14);
  about.writeUInt32LE(bytes.length, 18);
  about.writeUInt16LE(Buffer.byteLength(name), 22);
  return about;
}

const signature = (mark: number) => {
  const four = Buffer.alloc(4);
  four.writeUInt32LE(mark);
  return four;
};

/** Files as one ZIP archive (PKWARE APPNOTE 6.3), uncompressed: pictures are small already, and texts are few. */
export function zipOf(entries: readonly ZipEntry[], madeAt: number): Buffer {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  for (const entry of entries) {
    const about = aboutOf(entry, madeAt);
    const name = Buffer.from(entry.name);
    const local = Buffer.concat([signature(0x04034b50), about, name, entry.bytes]);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(at, 10);
    // version made by, what both heads say, then no comment, first disk, no attributes, where the file begins
    const madeBy = Buffer.from([20, 0]);
    directory.push(signature(0x02014b50), madeBy, about, rest, name);
    parts.push(local);
    at += local.length;
  }
  const listing = Buffer.concat(directory);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(entries.length, 4);
  end.writeUInt16LE(entries.length, 6);
  end.writeUInt32LE(listing.length, 8);
  end.writeUInt32LE(at, 12);
  return Buffer.concat([...parts, listing, signature(0x06054b50), end]);
}
