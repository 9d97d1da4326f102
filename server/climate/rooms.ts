import { h } from 'preact';
import { leavingRange } from '../../shared/climate/limits.ts';
import { vpdKpa } from '../../shared/climate/vapour.ts';
import { addDays } from '../../shared/days.ts';
import { ClimatePage, type ClimateRow } from '../../views/climate/page-climate.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { keptByMeasuredPlace, placesById } from './queries-places.ts';
import { measuredPlaces, newestReadings } from './queries-readings.ts';

/** A room that was not measured for so long is listed as not measured. */
const recentDays = 60;
/** An older reading says nothing of the air now, and warns of nothing. */
const freshMs = 36 * 3_600_000;

/** All places that can be measured, with what was read there last and whom that harms. */
export function showClimate(call: StaffCall): Answer {
  const { db, today, clock, business } = call;
  const all = placesById(db);
  const measured = measuredPlaces(db, addDays(today, -recentDays));
  const kept = keptByMeasuredPlace(db, all, measured);
  const rows = [...all.values()]
    .filter(({ kind, retiredAt }) => kind !== 'position' && retiredAt === null)
    .map(({ id, fullName, kind }): ClimateRow => {
      const isRoom = kind === 'room';
      const last = measured.has(id) ? newestReadings(db, id, 1)[0] : undefined;
      if (!last) return { id, fullName, isRoom, last: null, leaving: [] };
      const isFresh = clock.now() - last.at <= freshMs;
      const { at, tempC, humidityPct } = last;
      return {
        id,
        fullName,
        isRoom,
        last: {
          at,
          tempC,
          humidityPct,
          vpdKpa: humidityPct === null ? null : vpdKpa(tempC, humidityPct),
          isFresh,
        },
        leaving: isFresh ? leavingRange(tempC, kept.get(id) ?? []) : [],
      };
    });
  const { units, timeZone } = business;
  return page(
    h(ClimatePage, { furniture: call.furniture, rows, units, timeZone, mayEdit: call.who.role === 'owner' }),
  );
}
