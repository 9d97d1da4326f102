import { careDue, type DueKind } from '../../shared/checks/care-due.ts';
import { addDays, type Day, daysBetween } from '../../shared/days.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { type KeptCulture, keptCultures } from './queries.ts';
import { factsOf, type Marks, marksOf } from './todays-round.ts';

export type Ahead = { cultureId: number; code: string; what: DueKind; onDay: Day };

type About = Pick<StaffCall, 'db' | 'today' | 'business'>;

/**
 * What every culture wants on the days ahead, in walking order: the next of each kind, overdue ones today, what was put
 * off on the day until which it waits. What comes after the next look is not known before it.
 */
export function workAhead(about: About, days: number): Ahead[] {
  const { db, today } = about;
  const { waiting, ...marks } = marksOf(about);
  const until = addDays(today, days);
  const waits = new Map(waiting.map(({ cultureId, what, untilOn }) => [`${cultureId} ${what}`, untilOn]));
  return keptCultures(db, today).flatMap((culture) => {
    const { id: cultureId, code } = culture;
    const dues = careDue(factsOf(culture, marks), today)
      .filter(({ what, overdueDays }) => !isSeenTo(culture, what, overdueDays, marks))
      .map(({ what, dueOn }) => ({ what, onDay: waits.get(`${cultureId} ${what}`) ?? dueOn }));
    const asked = marks.asked.get(cultureId);
    if (asked && asked.doneEntry === null && !waits.has(`${cultureId} count`))
      dues.push({ what: 'count', onDay: today });
    return dues
      .map(({ what, onDay }) => ({
        cultureId,
        code,
        what,
        onDay: daysBetween(onDay, today) > 0 ? today : onDay,
      }))
      .filter(({ onDay }) => onDay <= until);
  });
}

/** Looked at today, or a count that somebody asked for anyway. */
function isSeenTo(culture: KeptCulture, what: DueKind, overdueDays: number, marks: Marks): boolean {
  if (what === 'count') return marks.asked.has(culture.id);
  return what === 'check' && overdueDays >= 0 && culture.doneEntry !== null;
}
