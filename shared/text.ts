import { z } from 'zod';

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
const controls = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/g;

/**
 * What turns the direction of all that follows, beyond the text it stands in (embeddings, overrides and isolates, Unicode
 * Standard Annex 9): "3 groups of 12" beside such a name would be read as "21 fo spuorg 3". Letters that are written
 * from right to left need none of them.
 */
export const turning = /[\u202a-\u202e\u2066-\u2069]/g;

/**
 * Text of one line as people meant it: composed, without control characters or what turns directions, runs of space
 * made one, ends trimmed.
 *
 * @example tidyLine('  Anna\t Muster\r\n') // 'Anna Muster'
 */
export function tidyLine(text: string): string {
  return text.normalize('NFC').replace(controls, '').replace(turning, '').replace(/\s+/g, ' ').trim();
}

/**
 * Text of several lines: composed, line ends made '\n', no control characters, nothing that turns directions, no blank
 * ends.
 *
 * @example tidyLines('1 Example Lane \r\nBack door\r\n') // '1 Example Lane\nBack door'
 */
export function tidyLines(text: string): string {
  return (
    text
      .normalize('NFC')
      .replace(/\r\n?/g, '\n')
      .replace(controls, '')
      .replace(turning, '')
      .split('\n')
      // Not a pattern for space at a line's end: on a page of spaces it would begin anew at each of them.
      .map((line) => line.trimEnd())
      .join('\n')
      .trim()
  );
}

const tooLong = (max: number) => `This is too long: ${max} characters at most.`;

/** A form's field of one line, empty when left out. */
export const optionalLine = (max: number) =>
  z
    .string({ error: 'Write this once.' })
    .default('')
    .transform(tidyLine)
    .pipe(z.string().max(max, tooLong(max)));

/** A form's field of one line that must be filled in; `missing` says what to write. */
export const neededLine = (max: number, missing: string) =>
  z
    .string({ error: missing })
    .transform(tidyLine)
    .pipe(z.string().min(1, missing).max(max, tooLong(max)));

/** A form's field of several lines, empty when left out. */
export const optionalLines = (max: number) =>
  z
    .string({ error: 'Write this once.' })
    .default('')
    .transform(tidyLines)
    .pipe(z.string().max(max, tooLong(max)));
