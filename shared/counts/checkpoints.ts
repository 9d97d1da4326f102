/**
 * Which of a culture's stored states to keep. Each state stands after a number of events; a later entry for a past
 * day replays from the newest state before that day. Kept are the newest, and for each doubling of the distance to
 * it the oldest in reach, so that n events leave about log2(n) states and a replay at most doubles the way back.
 *
 * @param events how many events each state stands after, any order
 * @returns the numbers to keep, ascending
 * @example keptStates([1, 2, 3, 4, 5, 6, 7, 8]) // [1, 5, 7, 8]
 */
export function keptStates(events: readonly number[]): number[] {
  const newest = Math.max(...events);
  const oldestByDistance = new Map<number, number>();
  for (const number of events) {
    const distance = newest - number;
    const reach = distance === 0 ? -1 : Math.floor(Math.log2(distance));
    const before = oldestByDistance.get(reach);
    if (before === undefined || number < before) oldestByDistance.set(reach, number);
  }
  return [...oldestByDistance.values()].sort((a, b) => a - b);
}
