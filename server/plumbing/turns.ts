/**
 * Turns for what costs much and may be asked for many times over in one moment: one after another, and whatever else has
 * come meanwhile is answered in between.
 */
export function makeTurns(): () => Promise<void> {
  let last: Promise<void> = Promise.resolve();
  return () => {
    last = last.then(() => new Promise((next) => setImmediate(next)));
    return last;
  };
}
