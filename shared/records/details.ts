/**
 * The details of a diary entry as one cell: `name: value` parted by semicolons. Holds what has no column of its
 * own, so that an export of the product reads back as it was. A backslash keeps a semicolon in a value.
 */
export type Details = Map<string, string>;

/** Reads a details cell; null where a piece has no colon. */
export function readDetails(cell: string): Details | null {
  const details: Details = new Map();
  for (const piece of splitPieces(cell)) {
    if (piece.trim() === '') continue;
    const colon = piece.indexOf(':');
    if (colon < 1) return null;
    details.set(piece.slice(0, colon).trim().toLowerCase(), unprotect(piece.slice(colon + 1).trim()));
  }
  return details;
}

/** Writes a details cell; what is null is left out. */
export function writeDetails(
  entries: readonly (readonly [string, string | number | boolean | null])[],
): string {
  return entries
    .filter(([, value]) => value !== null)
    .map(
      ([name, value]) =>
        `${name}: ${typeof value === 'boolean' ? (value ? 'yes' : 'no') : protect(String(value))}`,
    )
    .join('; ');
}

function splitPieces(cell: string): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (let at = 0; at < cell.length; at += 1) {
    if (cell[at] === '\\' && at + 1 < cell.length) {
      piece += cell.slice(at, at + 2);
      at += 1;
    } else if (cell[at] === ';') {
      pieces.push(piece);
      piece = '';
    } else piece += cell[at];
  }
  return [...pieces, piece];
}

function protect(text: string): string {
  return text.replace(/[;\\]/g, '\\$&');
}

function unprotect(text: string): string {
  return text.replace(/\\(.)/gs, '$1');
}
