import { h } from 'preact';
import { FRESH_MS, SILENT_MS } from '../../shared/climate/air-warning.ts';
import { vapour } from '../../shared/climate/vapour.ts';
import { addDays, daysBetween } from '../../shared/days.ts';
import { ClimatePage, type ClimateRow } from '../../views/climate/page-climate.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { daysOfPlaces } from './queries-air.ts';
import { placesById } from './queries-places.ts';
import { lastReadDay, measuredPlaces, newestReadings } from './queries-readings.ts';
import { airNow, airSaid } from './queries-warnings.ts';

/** A room that was not measured for so long is listed as not measured. */
const recentDays = 60;

/** So many days are drawn beside each place. */
const drawnDays = 14;

/** All places that can be measured, with what was read there last and whom that harms. */
export function showClimate(call: StaffCall): Answer {
  const { db, today, clock } = call;
  const all = placesById(db);
  const measured = measuredPlaces(db, addDays(today, -recentDays));
  const since = addDays(today, 1 - drawnDays);
  const days = daysOfPlaces(db, [...measured], since);
  const drawn = (id: number) =>
    (days.get(id) ?? []).map(({ onDay, minC, maxC, meanC }) => ({
      day: daysBetween(since, onDay),
      minC,
      maxC,
      meanC,
    }));
  const now = clock.now();
  const { warnings } = airNow(db, now);
  const isOut = new Set(warnings.map(({ placeId }) => placeId));
  const rows = [...all.values()]
    .filter(({ kind, retiredAt }) => kind !== 'position' && retiredAt === null)
    .map(({ id, fullName, kind }): ClimateRow => {
      const isRoom = kind === 'room';
      const last = measured.has(id) ? newestReadings(db, id, 1)[0] : undefined;
      if (!last)
        return { id, fullName, isRoom, days: [], last: null, lastDay: lastReadDay(db, id), isOut: false };
      const age = now - last.at;
      const { at, tempC, humidityPct } = last;
      return {
        id,
        fullName,
        isRoom,
        days: drawn(id),
        last: {
          at,
          tempC,
          humidityPct,
          air: humidityPct === null ? null : vapour({ tempC, humidityPct }),
          isFresh: age <= FRESH_MS,
          isSilent: last.sensorId !== null && age > SILENT_MS,
        },
        lastDay: null,
        isOut: isOut.has(id),
      };
    });
  const air = { ...airSaid(call), warnings };
  return page(h(ClimatePage, { furniture: call.furniture, rows, air, mayEdit: call.who.role === 'owner' }));
}
