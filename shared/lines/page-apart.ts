/** How pure a line is kept: mixed like any other, with nothing but itself, or within its own locality only. */
export const purities = ['no', 'line', 'locality'] as const;
export type Purity = (typeof purities)[number];

/** What is known of a line when two cultures are about to be mixed. */
export type MarkedLine = { id: number; name: string; locality: string; keptPure: Purity };

/** The key of a pair of lines, the same in either order. */
export const pairKey = (one: number, other: number): string =>
  one < other ? `${one} ${other}` : `${other} ${one}`;

/** As the database compares: ends trimmed, and the letters A to Z alike in both cases. */
const localityForm = (text: string): string =>
  text.trim().replace(/[A-Z]/g, (letter) => letter.toLowerCase());

function sameLocality(one: MarkedLine | null, other: MarkedLine | null): boolean {
  const here = localityForm(one?.locality ?? '');
  return here !== '' && here === localityForm(other?.locality ?? '');
}

/** What a line itself has against any other. */
function ownObjection(line: MarkedLine | null, other: MarkedLine | null): string | null {
  if (line === null) return null;
  if (line.keptPure === 'line') return `line ${line.name} is kept pure`;
  if (line.keptPure === 'locality' && !sameLocality(line, other))
    return `line ${line.name} is mixed within its own locality only (${line.locality || 'not written down'})`;
  return null;
}

/**
 * Why animals of two lines of one species must not come together, as the end of a sentence; null when they may. A
 * line may always be mixed with itself; null stands for cultures without a line.
 *
 * @example whyApart({ id: 1, name: 'dusk', locality: '', keptPure: 'line' }, null, new Set())
 * // 'line dusk is kept pure'
 * @example whyApart(dusk, dawn, new Set([pairKey(dusk.id, dawn.id)])) // 'lines dawn and dusk are never mixed'
 */
export function whyApart(
  one: MarkedLine | null,
  other: MarkedLine | null,
  pairs: ReadonlySet<string>,
): string | null {
  if ((one?.id ?? null) === (other?.id ?? null)) return null;
  if (one && other && pairs.has(pairKey(one.id, other.id))) {
    const [first, second] = [one.name, other.name].sort();
    return `lines ${first} and ${second} are never mixed`;
  }
  return ownObjection(one, other) ?? ownObjection(other, one);
}
