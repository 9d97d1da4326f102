import { limits, RecordsError } from './limits.ts';

export const encodings = ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252'] as const;
export type Encoding = (typeof encodings)[number];

export interface DecodedText {
  text: string;
  encoding: Encoding;
  /** The file said itself which encoding it has, by a byte order mark. */
  marked: boolean;
  /** How many places could not be read in this encoding and became the replacement character. */
  replaced: number;
}

// The upper half of Windows-1252 where it differs from ISO 8859-1 (Unicode Consortium mapping table CP1252.TXT);
// 0 marks the five bytes it leaves undefined. Written out because TextDecoder of some Node versions reads this
// label as ISO 8859-1.
const WINDOWS_1252 = [
  0x20ac, 0, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0,
  0x017d, 0, 0, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a,
  0x0153, 0, 0x017e, 0x0178,
];
const REPLACEMENT = '\uFFFD';

/**
 * The text of a file, with the encoding told or guessed: a byte order mark first, then the pattern of zero
 * bytes that UTF-16 has, then UTF-8 where it is valid or nearly so, else Windows-1252.
 * Throws a RecordsError for an empty file, one over 10 MB, and for what is no text (a workbook, a picture).
 *
 * @example decodeText(new Uint8Array([0x63, 0x61, 0x66, 0xe9])).text // 'café', Windows-1252
 */
export function decodeText(bytes: Uint8Array, told?: Encoding): DecodedText {
  refuseWhatIsNoText(bytes);
  const mark = byteOrderMark(bytes);
  const encoding = told ?? mark?.encoding ?? guessEncoding(bytes);
  const marked = mark !== null && mark.encoding === encoding;
  const body = marked ? bytes.subarray(mark.length) : bytes;
  if (body.length === 0) throw new RecordsError('empty', 'This file is empty.');
  const decoded = encoding === 'windows-1252' ? decodeWindows1252(body) : decodeUnicode(body, encoding);
  if (decoded.text.includes('\0') && countOf(decoded.text, '\0') > decoded.text.length / 50) {
    throw new RecordsError('not-text', 'This file is not text. Save the table as CSV and choose that file.');
  }
  return { ...decoded, encoding, marked };
}

function refuseWhatIsNoText(bytes: Uint8Array): void {
  if (bytes.length === 0) throw new RecordsError('empty', 'This file is empty.');
  if (bytes.length > limits.bytes) {
    throw new RecordsError('too-large', 'This file is larger than 10 MB. Split it, by year for example.');
  }
  if (startsWith(bytes, [0x50, 0x4b, 0x03, 0x04]) || startsWith(bytes, [0xd0, 0xcf, 0x11, 0xe0])) {
    throw new RecordsError(
      'spreadsheet-file',
      'This is a workbook, not a CSV file. In the spreadsheet save each sheet as CSV and choose that file.',
    );
  }
  const others = [
    [0x25, 0x50, 0x44, 0x46],
    [0x1f, 0x8b],
    [0x89, 0x50, 0x4e, 0x47],
    [0xff, 0xd8, 0xff],
  ];
  if (others.some((start) => startsWith(bytes, start))) {
    throw new RecordsError('not-text', 'This file is not text. Save the table as CSV and choose that file.');
  }
}

function byteOrderMark(bytes: Uint8Array): { encoding: Encoding; length: number } | null {
  if (startsWith(bytes, [0xef, 0xbb, 0xbf])) return { encoding: 'utf-8', length: 3 };
  if (startsWith(bytes, [0xff, 0xfe])) return { encoding: 'utf-16le', length: 2 };
  if (startsWith(bytes, [0xfe, 0xff])) return { encoding: 'utf-16be', length: 2 };
  return null;
}

function guessEncoding(bytes: Uint8Array): Encoding {
  const zeros = [0, 0];
  const looked = Math.min(bytes.length, 4096);
  for (let i = 0; i < looked; i += 1) if (bytes[i] === 0) zeros[i % 2]! += 1;
  const half = looked / 2;
  if (zeros[1]! > 0.3 * half && zeros[0]! < 0.05 * half) return 'utf-16le';
  if (zeros[0]! > 0.3 * half && zeros[1]! < 0.05 * half) return 'utf-16be';
  // Several bytes that form one letter hardly ever happen by chance: where they outnumber the broken places the
  // file is UTF-8 that was cut or patched, and saying so helps more than showing it as garbled Windows-1252.
  const { valid, broken } = utf8Sequences(bytes);
  return broken === 0 || (valid > 0 && valid >= broken) ? 'utf-8' : 'windows-1252';
}

/** Counts the letters of several bytes that are valid UTF-8 (RFC 3629), and the bytes that are not. */
function utf8Sequences(bytes: Uint8Array): { valid: number; broken: number } {
  let valid = 0;
  let broken = 0;
  for (let i = 0; i < bytes.length; ) {
    const first = bytes[i]!;
    if (first < 0x80) {
      i += 1;
      continue;
    }
    const length = first >= 0xf0 && first <= 0xf4 ? 4 : first >= 0xe0 ? 3 : first >= 0xc2 ? 2 : 0;
    let good = length > 0 && first <= 0xf4 && i + length <= bytes.length;
    for (let k = 1; good && k < length; k += 1) good = (bytes[i + k]! & 0xc0) === 0x80;
    if (good) valid += 1;
    else broken += 1;
    i += good ? length : 1;
  }
  return { valid, broken };
}

function decodeUnicode(bytes: Uint8Array, encoding: Encoding): { text: string; replaced: number } {
  try {
    return { text: new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes), replaced: 0 };
  } catch {
    const text = new TextDecoder(encoding, { ignoreBOM: true }).decode(bytes);
    return { text, replaced: Math.max(1, countOf(text, REPLACEMENT)) };
  }
}

function decodeWindows1252(bytes: Uint8Array): { text: string; replaced: number } {
  const pieces: string[] = [];
  let replaced = 0;
  for (let from = 0; from < bytes.length; from += 8192) {
    const codes = Array.from(bytes.subarray(from, from + 8192), (byte) => {
      if (byte < 0x80 || byte >= 0xa0) return byte;
      const code = WINDOWS_1252[byte - 0x80]!;
      if (code === 0) replaced += 1;
      return code || 0xfffd;
    });
    pieces.push(String.fromCharCode(...codes));
  }
  return { text: pieces.join(''), replaced };
}

function startsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return start.every((byte, i) => bytes[i] === byte);
}

function countOf(text: string, character: string): number {
  let count = 0;
  for (let at = text.indexOf(character); at >= 0; at = text.indexOf(character, at + 1)) count += 1;
  return count;
}
