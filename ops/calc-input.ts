/** A line or a document longer than this is not an honest input; it would only fill the memory. */
export const MOST_LINE_BYTES = 64 * 2 ** 20;

const NEWLINE = 0x0a;
const CARRIAGE_RETURN = 0x0d;

const utf8 = new TextDecoder('utf-8', { fatal: true });

/** The bytes as text, a byte order mark left out; null where they are not UTF-8. */
export function textOf(bytes: Uint8Array): string | null {
  try {
    return utf8.decode(bytes);
  } catch {
    return null;
  }
}

/**
 * The lines of a stream, one at a time, without their line ends (LF or CR LF); null for a line that is too
 * long, which is passed over without being kept. Never holds more than one line.
 */
export async function* linesOf(
  stream: AsyncIterable<Buffer>,
  most = MOST_LINE_BYTES,
): AsyncGenerator<Buffer | null> {
  let parts: Buffer[] = [];
  let size = 0;
  for await (const chunk of stream) {
    let from = 0;
    for (;;) {
      const end = chunk.indexOf(NEWLINE, from);
      const part = chunk.subarray(from, end < 0 ? chunk.length : end);
      size += part.length;
      if (size > most) parts = [];
      else parts.push(part);
      if (end < 0) break;
      yield size > most ? null : withoutReturn(Buffer.concat(parts));
      parts = [];
      size = 0;
      from = end + 1;
    }
  }
  if (size > 0) yield size > most ? null : withoutReturn(Buffer.concat(parts));
}

function withoutReturn(line: Buffer): Buffer {
  return line.at(-1) === CARRIAGE_RETURN ? line.subarray(0, -1) : line;
}
