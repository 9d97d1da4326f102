import { z } from 'zod';

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
const controls = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/g;

/**
 * Text of one line as people meant it: composed, without control characters, runs of space made one, ends trimmed.
 *
 * @example tidyLine('  Anna\t Muster\r\n') // 'Anna Muster'
 */
export function tidyLine(text: string): string {
  return text.normalize('NFC').replace(controls, '').replace(/\s+/g, ' ').trim();
}

/**
 * Text of several lines: composed, line ends made '\n', no control characters, no blank ends.
 *
 * @example tidyLines('1 Example Lane \r\nBack door\r\n') // '1 Example Lane\nBack door'
 */
export function tidyLines(text: string): string {
  return (
    text
      .normalize('NFC')
      .replace(/\r\n?/g, '\n')
      .replace(controls, '')
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
