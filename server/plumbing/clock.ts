/** Where every instant comes from; tests and the demo give their own. */
export type Clock = { now(): number };

export const systemClock: Clock = { now: () => Date.now() };
