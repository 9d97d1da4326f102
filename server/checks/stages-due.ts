import type { CareFacts } from '../../shared/checks/care-due.ts';
import { lookDue } from '../../shared/development/look-due.ts';
import { stageWords } from '../../views/checks/say-round.ts';
import { stagesByCulture } from '../development/queries.ts';
import type { StaffCall } from '../plumbing/call.ts';

const looks = { hatch: 'young', adult: 'adults' } as const;

/** From when on to look for young or adults in each culture that has some foretold, and why. */
export function stagesDue({ db, today, business }: Pick<StaffCall, 'db' | 'today' | 'business'>) {
  const dues = new Map<number, CareFacts['stages']>();
  for (const [cultureId, stages] of stagesByCulture(db, today)) {
    const own = stages.flatMap(({ stage, from, to, ...rest }) => {
      const dueOn = lookDue({ from, to, notYetOn: rest.notYetOn }, today);
      if (dueOn === null || from === null || to === null) return [];
      const reason = stageWords({ stage, from, to, ...rest }, business.units, business.locale);
      return [{ what: looks[stage], dueOn, reason }];
    });
    dues.set(cultureId, own);
  }
  return dues;
}
