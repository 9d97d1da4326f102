import { type Face, fallbackOf, isScriptFace, type PrintFace, serves } from './faces.ts';
import { scriptFacesOf } from './scripts.ts';

/** What stands on the paper where no font has the character. */
export const UNPRINTABLE = '[?]';

/** Collects what the reader must be told about a print, each thing once. */
export class Warnings {
  readonly list: string[] = [];
  /** How many texts so far held characters that could not be printed. */
  unprintable = 0;

  add(message: string): void {
    if (!this.list.includes(message)) this.list.push(message);
  }

  missing(text: string, graphemes: string[]): void {
    this.unprintable += 1;
    const shown = [...new Set(graphemes)].slice(0, 20).join(' ');
    const where = text.length > 60 ? `${text.slice(0, 60)}…` : text;
    this.add(
      `No print font has these characters: ${shown} (in “${where}”). They are printed as ${UNPRINTABLE}.`,
    );
  }
}

/** A stretch of text in one embedded face. */
export interface Stretch {
  text: string;
  face: PrintFace;
}

const segmenter = new Intl.Segmenter('en', { granularity: 'grapheme' });

export function graphemesOf(text: string): string[] {
  return Array.from(segmenter.segment(text), (part) => part.segment);
}

/**
 * The text as it may be printed: composed (NFC), line ends as \n, tabs as spaces, and without characters that have no
 * shape (controls, direction marks and overrides, soft hyphens, variation selectors, unpaired surrogates). Joiners stay,
 * since letters change beside them, and so do isolates, which keep a name's direction from its neighbours.
 */
export function printable(text: string): string {
  return text
    .replace(/\r\n?|[\u0085\u2028\u2029\v\f]/g, '\n')
    .replace(/\t/g, ' ')
    .replace(/[\ufb00-\ufb06]/g, (ligature) => ligature.normalize('NFKC'))
    .replace(
      /(?!\n|\u200c|\u200d|[\u2066-\u2069])[\p{Cc}\p{Cs}\p{Default_Ignorable_Code_Point}\ufff9-\ufffb]/gu,
      '',
    )
    .replace(/[\u2000-\u2006\u2008-\u200a\u205f\u3000]/g, ' ')
    .replace(/[\u2007\u202f]/g, '\u00a0')
    .normalize('NFC');
}

/** What helps to choose among faces. */
export interface Hint {
  /** Two letters of the country whose forms of Chinese characters are wanted. */
  country?: string | undefined;
}

/**
 * Chooses the face for each grapheme: the wanted one, else the fallback, else that of its script, else a clear marker
 * and a warning. A word that one of them can draw whole is not patched together from two faces.
 */
export function stretchesOf(text: string, face: Face, warnings: Warnings, { country }: Hint = {}): Stretch[] {
  if (serves(face, text)) return text === '' ? [] : [{ text, face }];
  const found: Stretch[] = [];
  const missing: string[] = [];
  const able = (part: string): PrintFace | undefined => {
    // letters with marks are composed as far as they can be; what is left needs the script's own face
    const faces: PrintFace[] = [face, fallbackOf(face)];
    const own = scriptFacesOf(part, text, face, country);
    return [...(own.length > 0 ? own : faces), ...faces].find((each) => serves(each, part));
  };
  for (const word of text.match(/\s+|\S+/g) ?? []) {
    const last = found.at(-1);
    // the space between two words of a script is laid with them
    if (/^\s/.test(word) && last && isScriptFace(last.face) && serves(last.face, word)) last.text += word;
    else {
      const whole = able(word);
      if (whole) push(found, word, whole);
      else
        for (const grapheme of graphemesOf(word))
          pushGrapheme(found, grapheme, able(grapheme), face, missing);
    }
  }
  if (missing.length > 0) warnings.missing(text, missing);
  return found;
}

function pushGrapheme(
  found: Stretch[],
  grapheme: string,
  able: PrintFace | undefined,
  face: Face,
  missing: string[],
): void {
  if (able) push(found, grapheme, able);
  else {
    missing.push(grapheme);
    // one marker stands for a whole run of characters that cannot be drawn
    if (!found.at(-1)?.text.endsWith(UNPRINTABLE)) push(found, UNPRINTABLE, face);
  }
}

function push(found: Stretch[], text: string, face: PrintFace): void {
  const last = found.at(-1);
  if (last?.face === face) last.text += text;
  else found.push({ text, face });
}
