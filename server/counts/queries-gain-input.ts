import type { GainInput } from '../../shared/surplus/work-out-gain.ts';
import type { Db } from '../plumbing/open-database.ts';
import { gather } from './gather.ts';

/** What is known of a culture, for whoever asks what a count of it would free. */
export function gainInput(tx: Db, cultureId: number, today: string): Omit<GainInput, 'planned' | 'held'> {
  const { basis, from, events, surplus, asOf, level } = gather(tx, cultureId, today).input;
  return { basis, from, events, settings: surplus, asOf, level };
}
