import type { JobsLog } from './jobs.ts';

type Looking = {
  everyMs: number;
  log: JobsLog;
  /** What the log says when a look failed. */
  failed: string;
  /** How long what is under way may still take once it is stopped. */
  longestGoodByeMs: number;
};

/** Looks for work at once and then every so often, one look at a time, until it is stopped. Only main.ts does this. */
export function keepLooking(
  look: (isStopped: () => boolean) => Promise<unknown>,
  { everyMs, log, failed, longestGoodByeMs }: Looking,
): () => Promise<void> {
  let stopped = false;
  let running: Promise<unknown> | null = null;
  const next = () => {
    if (running || stopped) return;
    running = look(() => stopped)
      .catch((err: unknown) => log.error({ err }, failed))
      .finally(() => {
        running = null;
      });
  };
  next();
  const timer = setInterval(next, everyMs);
  timer.unref();
  return async () => {
    stopped = true;
    clearInterval(timer);
    await Promise.race([running, new Promise((resolve) => setTimeout(resolve, longestGoodByeMs).unref())]);
  };
}
