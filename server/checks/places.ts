import { type Piece, roundParts } from '../../shared/checks/round-parts.ts';
import type { Parts, PlaceLeft } from '../../views/checks/part-round-parts.tsx';
import type { PlaceRows } from '../../views/checks/part-round-place.tsx';
import type { RoundRowData } from '../../views/checks/part-round-row.tsx';
import { isOnRound, type Round, type RoundCulture } from './todays-round.ts';

/** A place with all that is walked past there today; what is put off keeps its room, so that parts stay as they are. */
type Place = Omit<PlaceRows, 'rows' | 'piece'> & { walked: RoundCulture[]; rows: RoundRowData[] };

/** Rows that stand together, in the order they are walked past; quarantine is a place of its own, at the end. */
function placesOf(walked: readonly RoundCulture[]): Place[] {
  const places: Place[] = [];
  const met = new Map<string, number>();
  let last = '';
  for (const culture of walked) {
    const { row } = culture;
    const stands = row.inQuarantine ? 'quarantine' : (row.shelfId?.toString() ?? 'none');
    let place = places.at(-1);
    if (!place || stands !== last) {
      const before = met.get(stands) ?? 0;
      met.set(stands, before + 1);
      place = {
        key: before === 0 ? stands : `${stands}-${before + 1}`,
        placeId: row.inQuarantine ? null : row.shelfId,
        name: row.inQuarantine ? null : row.shelf,
        isQuarantine: row.inQuarantine,
        walked: [],
        rows: [],
      };
      places.push(place);
    }
    last = stands;
    place.walked.push(culture);
    if (isOnRound(row)) place.rows.push(row);
  }
  return places;
}

const openIn = (rows: readonly RoundRowData[]) => rows.filter(({ open }) => open.length > 0).length;

type Divided = { places: Place[]; parts: Piece[][] };

const rowsOf = ({ places }: Divided, { place, from, to }: Piece): RoundRowData[] =>
  (places[place]?.walked ?? []).slice(from, to).flatMap(({ row }) => (isOnRound(row) ? [row] : []));

const openInPart = (divided: Divided, pieces: readonly Piece[]) =>
  pieces.reduce((sum, piece) => sum + openIn(rowsOf(divided, piece)), 0);

/** The place as it stands on one page: all of its rows, or a piece of them. */
function pieceOf(divided: Divided, piece: Piece): PlaceRows[] {
  const place = divided.places[piece.place];
  const rows = rowsOf(divided, piece);
  const [first] = rows;
  if (!place || !first) return [];
  const { key, placeId, name, isQuarantine } = place;
  const isWhole = piece.from === 0 && piece.to === place.walked.length;
  const at = place.rows.indexOf(first);
  return [
    {
      key,
      placeId,
      name,
      isQuarantine,
      rows,
      piece: isWhole ? null : { first: at + 1, last: at + rows.length, of: place.rows.length },
    },
  ];
}

/** What is left at each place, with the part in which it begins or, where it is divided, goes on. */
function leftOf(divided: Divided): PlaceLeft[] {
  const partOf = new Map<number, number>();
  for (const [i, pieces] of divided.parts.entries())
    for (const piece of pieces) {
      const isStarted = partOf.has(piece.place);
      const before = partOf.get(piece.place);
      const wasOpen = before !== undefined && isOpenAt(divided, before, piece.place);
      if (!isStarted || (!wasOpen && openIn(rowsOf(divided, piece)) > 0)) partOf.set(piece.place, i + 1);
    }
  return divided.places.flatMap(({ key, name, isQuarantine, rows }, i) =>
    rows.length === 0
      ? []
      : [{ key, name, isQuarantine, left: openIn(rows), total: rows.length, part: partOf.get(i) ?? 1 }],
  );
}

function isOpenAt(divided: Divided, part: number, place: number): boolean {
  const pieces = divided.parts[part - 1] ?? [];
  return pieces.some((piece) => piece.place === place && openIn(rowsOf(divided, piece)) > 0);
}

/** The next part with something open, else the first one before: with the first place there that has something. */
function onwardFrom(divided: Divided, open: readonly number[], part: number, left: readonly PlaceLeft[]) {
  const later = open.findIndex((count, i) => i + 1 > part && count > 0);
  const earlier = open.findIndex((count, i) => i + 1 < part && count > 0);
  const found = later >= 0 ? later : earlier;
  const piece = divided.parts[found]?.find((one) => openIn(rowsOf(divided, one)) > 0);
  const key = piece && divided.places[piece.place]?.key;
  const place = left.find((one) => one.key === key);
  return place ? { part: found + 1, place } : null;
}

export type ShownPart = {
  places: PlaceRows[];
  parts: Parts | null;
  /** At which place of the whole round a culture stands. */
  placeKeyOf: (code: string) => string | undefined;
};

/** The part of the round that was asked for; where none was, the first in which something is open. */
export function partOf(round: Round, asked: number | null): ShownPart {
  const walked = round.all.filter(({ row, waits }) => waits || isOnRound(row));
  const places = placesOf(walked);
  const divided = { places, parts: roundParts(places.map((place) => place.walked.length)) };
  const open = divided.parts.map((pieces) => openInPart(divided, pieces));
  const of = divided.parts.length;
  const part = Math.min(asked ?? Math.max(1, open.findIndex((count) => count > 0) + 1), Math.max(1, of));
  const shown = (divided.parts[part - 1] ?? []).flatMap((piece) => pieceOf(divided, piece));
  const placeKeyOf = (code: string) =>
    places.find((place) => place.walked.some(({ row }) => row.code === code))?.key;
  if (of <= 1) return { places: shown, parts: null, placeKeyOf };
  const left = leftOf(divided);
  const onward = onwardFrom(divided, open, part, left);
  const parts = { part, of, open: open[part - 1] ?? 0, places: left, onward };
  return { places: shown, parts, placeKeyOf };
}
