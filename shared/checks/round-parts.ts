/** So many rows stand on one page of the round: a page that a phone shows at once, and no more than one press may mark. */
export const mostRows = 80;

/** A piece of one place on a page of the round: which place, and which of its rows, the last one not included. */
export type Piece = { place: number; from: number; to: number };

/**
 * Answers: how a round is divided into parts that are walked one after another. Places are kept whole and in their
 * order, as many in a part as fit; a place that has more rows than a part may hold is divided into pieces of nearly the
 * same size, the first of which begins a part.
 *
 * @param rows how many rows each place has, in walking order
 * @param most the most rows of a part, 1 or more
 * @returns the parts in order; none where there are no rows
 * @example roundParts([30, 40, 30, 180], 80).map((part) => part.map(({ from, to }) => to - from))
 * // [[30, 40], [30], [60], [60], [60]]
 */
export function roundParts(rows: readonly number[], most = mostRows): Piece[][] {
  if (!(most >= 1)) throw new RangeError('a part holds one row or more');
  const parts: Piece[][] = [];
  let room = 0;
  const add = (piece: Piece) => {
    const size = piece.to - piece.from;
    const last = parts.at(-1);
    if (last && size <= room) last.push(piece);
    else {
      parts.push([piece]);
      room = most;
    }
    room -= size;
  };
  for (const [place, count] of rows.entries()) {
    const pieces = Math.ceil(count / most);
    if (pieces > 1) room = 0;
    for (let i = 0; i < pieces; i += 1)
      add({ place, from: Math.floor((i * count) / pieces), to: Math.floor(((i + 1) * count) / pieces) });
  }
  return parts;
}
