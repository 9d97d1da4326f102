import type { BareApp, cast } from '../../support/test-app.ts';
import type { Hand } from './hand.ts';

/** What somebody does from beginning to end; each makes what it needs, and nothing of it is left for the next. */
export type Job = (o: { hand: Hand; db: BareApp['db']; now: number }) => Promise<void>;

export type JobOf = {
  job: Job;
  /** Null is a stranger. */
  who: keyof typeof cast | null;
  /** A service of its own: what it counts must not be counted for others. */
  alone?: boolean;
  /** Before anybody has set anything up. */
  isNew?: boolean;
};
