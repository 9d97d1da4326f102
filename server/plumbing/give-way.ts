import { constants, setPriority } from 'node:os';

/**
 * Called by a thread that calculates or prints: whoever waits for a page goes first where both want the processor. Linux
 * gives each thread a priority of its own; elsewhere this would be the whole process's.
 */
export function giveWay() {
  if (process.platform !== 'linux') return;
  try {
    setPriority(constants.priority.PRIORITY_BELOW_NORMAL);
  } catch {
    // A machine that forbids it has all threads alike, which is slower for others and no fault.
  }
}
