/**
 * Evenly spread numbers from 0 to 1 that depend only on the seed: a linear congruential generator (modulus 2^32,
 * multiplier and increment as in "Numerical Recipes", from memory). Good enough to scatter ink, and for nothing else.
 */
export function scatter(seed: number): () => number {
  let state = (seed * 2654435761 + 12345) >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
