import { type Day, daysBetween } from '../days.ts';
import { type Due, dueAfter } from './due.ts';

const daysPerMonth = 365.25 / 12;

/**
 * Answers: when a culture's substrate is old by its species' rhythm. A culture starts on fresh substrate; a renewal
 * begins anew. Units: months of a twelfth of a year, on average. Common practice, no source.
 *
 * @returns null where the species' substrate is never renewed
 * @example substrateDue({ foundedOn: '2025-06-01', renewedOn: null, everyMonths: 12 }, '2026-11-25')?.reason
 * // 'substrate: 18 months old, renewed every 12 months'; due since '2026-06-01'
 */
export function substrateDue(
  facts: { foundedOn: Day; renewedOn: Day | null; everyMonths: number | null },
  today: Day,
): Due | null {
  const { foundedOn, renewedOn, everyMonths } = facts;
  if (everyMonths === null) return null;
  const freshOn = renewedOn ?? foundedOn;
  const months = Math.floor(daysBetween(freshOn, today) / daysPerMonth);
  const words = (count: number) => (count === 1 ? '1 month' : `${count} months`);
  return dueAfter(
    {
      since: renewedOn === null ? 'founded' : 'fresh',
      from: freshOn,
      days: Math.round(everyMonths * daysPerMonth),
      months: everyMonths,
    },
    today,
    `substrate: ${words(Math.max(0, months))} old, renewed every ${words(everyMonths)}`,
  );
}
