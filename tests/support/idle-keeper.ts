import type { Keeper } from '../../server/plumbing/backups.ts';

/** Is asked for backups like the real one, and makes none. */
export const idleKeeper = (): Keeper => ({
  shelf: '/nonexistent',
  list: () => [],
  progress: () => null,
  lastFailure: () => null,
  isLate: () => false,
  lastProvenAt: () => null,
  begin: () => true,
  rememberErased: () => undefined,
  look: () => undefined,
  idle: async () => undefined,
});
