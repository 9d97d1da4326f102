import type { CareFacts } from '../../shared/checks/care-due.ts';
import { lookDue } from '../../shared/development/look-due.ts';
import { stageWords } from '../../views/checks/say-round.ts';
import { type StageExpected, stagesByCulture } from '../development/queries.ts';
import type { StaffCall } from '../plumbing/call.ts';

const looks = { hatch: 'young', adult: 'adults' } as const;

type Stages = readonly StageExpected[];
type About = Pick<StaffCall, 'db' | 'today' | 'business'>;

/** As long as what is expected of a culture is the same object, so are its words. */
const kept = new WeakMap<Stages, { key: string; dues: CareFacts['stages'] }>();

function duesOf(stages: Stages, { today, business: { units, locale } }: About): CareFacts['stages'] {
  const key = [today, units, locale].join(' ');
  const before = kept.get(stages);
  if (before?.key === key) return before.dues;
  const dues = stages.flatMap(({ stage, from, to, ...rest }) => {
    const sum = lookDue({ from, to, notYetOn: rest.notYetOn }, today);
    if (sum === null || from === null || to === null) return [];
    const reason = stageWords({ stage, from, to, ...rest }, units, locale);
    return [{ what: looks[stage], sum, reason }];
  });
  kept.set(stages, { key, dues });
  return dues;
}

/** From when on to look for young or adults in each culture that has some foretold, and why. */
export const stagesDue = (about: About): Map<number, CareFacts['stages']> =>
  new Map(
    [...stagesByCulture(about.db, about.today)].map(([cultureId, stages]) => [
      cultureId,
      duesOf(stages, about),
    ]),
  );
