/** What decides when an order's turn comes on a packing day. */
export interface PackingTurn {
  number: number;
  /** HH:MM; null where no time is set. */
  dispatchBy: string | null;
  /** Where its first culture stands in walking order; null where it has no place. */
  walk: string | null;
}

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** Those that are known first, in their order. */
const knownFirst = (a: string | null, b: string | null): number =>
  a === null || b === null ? Number(a === null) - Number(b === null) : compare(a, b);

/**
 * Orders of a day as they are packed: what must leave first, then by where its first culture stands, so that one walk
 * along the shelves serves neighbouring orders, then by number.
 *
 * @example inPackingOrder([{ number: 1, dispatchBy: null, walk: 'a' }, { number: 2, dispatchBy: '15:00', walk: 'b' },
 *   { number: 3, dispatchBy: '15:00', walk: 'a' }]).map(({ number }) => number) // [3, 2, 1]
 */
export function inPackingOrder<T extends PackingTurn>(orders: readonly T[]): T[] {
  return [...orders].sort(
    (a, b) => knownFirst(a.dispatchBy, b.dispatchBy) || knownFirst(a.walk, b.walk) || a.number - b.number,
  );
}

/**
 * The time of day some hours before another, as HH:MM, and how many days earlier that is.
 *
 * @example hoursBefore('16:00', 2) // { time: '14:00', daysBefore: 0 }
 * @example hoursBefore('01:00', 2.5) // { time: '22:30', daysBefore: 1 }
 */
export function hoursBefore(time: string, hours: number): { time: string; daysBefore: number } {
  const [hour = 0, minute = 0] = time.split(':').map(Number);
  const at = hour * 60 + minute - Math.round(hours * 60);
  const daysBefore = Math.max(0, -Math.floor(at / 1440));
  const within = ((at % 1440) + 1440) % 1440;
  const two = (n: number) => String(n).padStart(2, '0');
  return { time: `${two(Math.floor(within / 60))}:${two(within % 60)}`, daysBefore };
}
