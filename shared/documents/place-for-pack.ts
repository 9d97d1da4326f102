import type { Measures, Standing } from './stand-cups.ts';

/** What a pack asks of its box. */
export interface PackNeeds {
  effect: 'warms' | 'cools';
  count: number;
  smallestBoxL: number;
  mostInBox: number;
}

export type PlaceForPack =
  | { ok: true; freeMm: number | null }
  | {
      ok: false;
      why: 'box too small' | 'too many packs' | 'no room over the cups' | 'cups do not fit';
      /** What there is and what is needed: litres, packs or millimetres. */
      has: number;
      needs: number;
    };

const litresOf = ({ lengthMm, widthMm, heightMm }: Measures): number => (lengthMm * widthMm * heightMm) / 1e6;

/**
 * Whether packs may go into a box: it must hold the pack's smallest volume (litres), not more packs than it bears, and
 * over the cups must stay the room that a pack and its air want (`roomMm`, the owner's figure). A pack never lies under or
 * against a cup, so the room over the cups is all there is. `standing` is null where the cups' measures are not known: the
 * room over them cannot be judged then and is left to whoever packs.
 *
 * @example placeForPack({ lengthMm: 100, widthMm: 100, heightMm: 100 }, { effect: 'warms', count: 1, smallestBoxL: 3,
 *   mostInBox: 1 }, null, 40) // { ok: false, why: 'box too small', has: 1, needs: 3 }
 */
export function placeForPack(
  box: Measures,
  pack: PackNeeds,
  standing: Standing | null,
  roomMm: number,
): PlaceForPack {
  const litres = litresOf(box);
  if (litres < pack.smallestBoxL)
    return { ok: false, why: 'box too small', has: litres, needs: pack.smallestBoxL };
  if (pack.count > pack.mostInBox)
    return { ok: false, why: 'too many packs', has: pack.mostInBox, needs: pack.count };
  if (standing === null) return { ok: true, freeMm: null };
  if (!standing.fits) return { ok: false, why: 'cups do not fit', has: 0, needs: 0 };
  if (standing.freeMm < roomMm)
    return { ok: false, why: 'no room over the cups', has: standing.freeMm, needs: roomMm };
  return { ok: true, freeMm: standing.freeMm };
}
