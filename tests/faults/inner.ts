import { readFileSync } from 'node:fs';

/** The pid of what another command (unshare, strace) runs: a signal to that one does not end what it runs. */
export function innerPid(outer: number): number {
  const inner = readFileSync(`/proc/${outer}/task/${outer}/children`, 'utf8').trim();
  return Number(inner.split(' ')[0]);
}
