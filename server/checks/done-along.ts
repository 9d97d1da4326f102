import type { DueKind } from '../../shared/checks/care-due.ts';
import type { CheckForm } from '../../shared/checks/form.ts';
import { lastGiven } from '../cultures/queries-write.ts';
import type { Db } from '../plumbing/open-database.ts';

/**
 * What a look writes down along when what was due was done as always: the food and the water of the last time, the
 * fruit out. Water stays due where no amount was ever written down, and a count is never done along.
 */
export function doneAlong(tx: Db, cultureId: number, open: readonly DueKind[]): Partial<CheckForm> {
  if (!open.some((what) => what === 'feed' || what === 'water' || what === 'fruit')) return {};
  const given = lastGiven(tx, cultureId);
  return {
    ...(open.includes('feed') && { food: given.food ?? 'as always' }),
    ...(open.includes('water') &&
      given.waterMl !== null && { waterMl: given.waterMl, waterUnit: 'ml' as const }),
    ...(open.includes('fruit') && { fruitOut: 'yes' as const }),
  };
}
