import { hasRightToLeft, levelsOf, visualOrder } from './bidi.ts';
import { isScriptFace, type PrintFace, SHAPELESS, widthOf } from './faces.ts';

/** A stretch of text in one face and one direction. */
export interface Laid {
  text: string;
  face: PrintFace;
  sizePt: number;
  tabular: boolean;
  /** Meant to be bold, whether its face is or not. */
  bold: boolean;
  /** From right to left. */
  rtl: boolean;
}

type Given = Laid & { lang: string | undefined };
type Placed = Given & { xPt: number; widthPt: number };
type Levelled = Given & { level: number };

/** Stretches of one line in the order of reading, each where it stands; the space at the line's end is not counted. */
export function laidRuns(given: readonly Given[], base: 'ltr' | 'rtl'): { runs: Placed[]; widthPt: number } {
  const text = given.map((each) => each.text).join('');
  const mixed = hasRightToLeft(text) || base === 'rtl';
  const levelled = mixed ? split(given, text, base) : given.map((each) => ({ ...each, level: 0 }));
  const { joined, space } = withoutEnd(together(levelled));
  const widths = joined.map((each) => widthOf(each.text, each));
  const xs: number[] = [];
  let xPt = 0;
  for (const index of mixed ? visualOrder(joined.map(({ level }) => level)) : joined.keys()) {
    xs[index] = xPt;
    xPt += widths[index] ?? 0;
  }
  const runs = joined.map(({ level: _level, ...each }, index) => ({
    ...each,
    xPt: xs[index] ?? 0,
    widthPt: widths[index] ?? 0,
  }));
  const last = runs.at(-1);
  if (space === '' || !last) return { runs, widthPt: xPt };
  if (last.rtl) runs.push({ ...last, face: 'regular', rtl: false, text: space, xPt, widthPt: 0 });
  else last.text += space;
  return { runs, widthPt: xPt };
}

/** Cut where the direction turns. What says only the direction has done its work then and goes. */
function split(given: readonly Given[], text: string, base: 'ltr' | 'rtl'): Levelled[] {
  const levels = levelsOf(text, base);
  const found: Levelled[] = [];
  let at = 0;
  for (const each of given) {
    let from = at;
    const end = at + each.text.length;
    for (let to = from + 1; to <= end; to += 1) {
      if (to < end && levels[to] === levels[from]) continue;
      const level = levels[from] ?? 0;
      found.push({ ...each, text: text.slice(from, to), level, rtl: level % 2 === 1 });
      from = to;
    }
    at = end;
  }
  return found;
}

/** Neighbours of one face, style and level as one. */
function together(given: readonly Levelled[]): Levelled[] {
  const found: Levelled[] = [];
  for (const each of given) {
    // joiners matter to the shaper only
    const needed = each.rtl || isScriptFace(each.face) ? /[\u2066-\u2069]/g : SHAPELESS;
    const text = each.text.replace(needed, '');
    const last = found.at(-1);
    if (text === '') continue;
    if (last && isSame(last, each)) last.text += text;
    else found.push({ ...each, text });
  }
  return found;
}

const isSame = (one: Levelled, other: Levelled): boolean =>
  one.face === other.face &&
  one.level === other.level &&
  one.sizePt === other.sizePt &&
  one.lang === other.lang &&
  one.tabular === other.tabular &&
  one.bold === other.bold;

/** The space at the end hangs over the line unseen. */
function withoutEnd(joined: Levelled[]): { joined: Levelled[]; space: string } {
  const last = joined.at(-1);
  const space = last ? (/ +$/.exec(last.text)?.[0] ?? '') : '';
  if (!last || space === '' || space === last.text) return { joined, space: '' };
  return { joined: [...joined.slice(0, -1), { ...last, text: last.text.slice(0, -space.length) }], space };
}
