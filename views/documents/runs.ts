import { hasRightToLeft, levelsOf, visualOrder } from './bidi.ts';
import { isScriptFace, type PrintFace, SHAPELESS, widthOf } from './faces.ts';

/** How a stretch of text looks; made once for all words of a stretch. */
export interface Dress {
  face: PrintFace;
  sizePt: number;
  tabular: boolean;
  /** Meant to be bold, whether its face is or not. */
  bold: boolean;
  lang: string | undefined;
}

export interface Dressed {
  text: string;
  dress: Dress;
}

/** A stretch of one line in one face and one direction, ready to be drawn at xPt from the line's left edge. */
export interface Run extends Dress {
  xPt: number;
  widthPt: number;
  text: string;
  /** From right to left. */
  rtl: boolean;
}

type Levelled = Dressed & { level: number };

/** Stretches of one line in the order of reading, each where it stands; the space at the line's end is not counted. */
export function laidRuns(given: readonly Dressed[], base: 'ltr' | 'rtl'): { runs: Run[]; widthPt: number } {
  const text = given.length === 1 ? (given[0]?.text ?? '') : given.map((each) => each.text).join('');
  const mixed = base === 'rtl' || hasRightToLeft(text);
  const joined = together(mixed ? split(given, text, base) : given);
  const space = takeEnd(joined);
  const runs = joined.map(({ text: said, dress, level }): Run => {
    const rtl = level % 2 === 1;
    return { ...dress, text: said, rtl, xPt: 0, widthPt: widthOf(said, dress, rtl) };
  });
  let xPt = 0;
  for (const index of mixed ? visualOrder(joined.map(({ level }) => level)) : runs.keys()) {
    const run = runs[index];
    if (!run) continue;
    run.xPt = xPt;
    xPt += run.widthPt;
  }
  const last = runs.at(-1);
  if (space !== '' && last?.rtl)
    runs.push({ ...last, face: 'regular', rtl: false, text: space, xPt, widthPt: 0 });
  else if (last) last.text += space;
  return { runs, widthPt: xPt };
}

/** Cut where the direction turns. */
function split(given: readonly Dressed[], text: string, base: 'ltr' | 'rtl'): Levelled[] {
  const levels = levelsOf(text, base);
  const found: Levelled[] = [];
  let at = 0;
  for (const { text: said, dress } of given) {
    let from = at;
    const end = at + said.length;
    for (let to = from + 1; to <= end; to += 1) {
      if (to < end && levels[to] === levels[from]) continue;
      found.push({ text: text.slice(from, to), dress, level: levels[from] ?? 0 });
      from = to;
    }
    at = end;
  }
  return found;
}

const ISOLATES = /[\u2066-\u2069]/g;
const HAS_SHAPELESS = /\u200c|\u200d|[\u2066-\u2069]/;

/** Neighbours of one look and level as one. What says only the direction has done its work and goes. */
function together(given: readonly (Dressed & { level?: number })[]): Levelled[] {
  const found: Levelled[] = [];
  for (const { text, dress, level = 0 } of given) {
    // joiners matter to the shaper only
    const needless = level % 2 === 1 || isScriptFace(dress.face) ? ISOLATES : SHAPELESS;
    const said = HAS_SHAPELESS.test(text) ? text.replace(needless, '') : text;
    if (said === '') continue;
    const last = found.at(-1);
    if (last && last.level === level && isSame(last.dress, dress)) last.text += said;
    else found.push({ text: said, dress, level });
  }
  return found;
}

const isSame = (one: Dress, other: Dress): boolean =>
  one === other ||
  (one.face === other.face &&
    one.sizePt === other.sizePt &&
    one.lang === other.lang &&
    one.tabular === other.tabular &&
    one.bold === other.bold);

/** Takes the space at the end off: it hangs over the line unseen. */
function takeEnd(joined: Levelled[]): string {
  const last = joined.at(-1);
  if (!last?.text.endsWith(' ')) return '';
  const kept = last.text.trimEnd();
  if (kept === '') return '';
  const space = last.text.slice(kept.length);
  last.text = kept;
  return space;
}
