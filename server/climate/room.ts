import { h } from 'preact';
import { downsample, type Span } from '../../shared/climate/downsample.ts';
import { commonRange } from '../../shared/climate/limits.ts';
import { addDays, toEpochDay } from '../../shared/days.ts';
import { type ChartSpan, RoomPage, type RoomPageProps } from '../../views/climate/page-room.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { type ClimatePlace, keptByMeasuredPlace, placesById, sensorsOf } from './queries-places.ts';
import {
  climateDaysSince,
  lastReadDay,
  measuredPlaces,
  newestReadings,
  readingsSince,
} from './queries-readings.ts';
import { airNow, airSaid } from './queries-warnings.ts';

const msPerDay = 86_400_000;
const parts = 96;
const emptyForm: FormState = { values: {}, errors: {} };

export function placeIn(call: StaffCall): ClimatePlace {
  const place = placesById(call.db).get(numberIn(call, 'id', 'place'));
  if (!place || place.kind === 'position') throw notFound('place');
  return place;
}

const spanIn = ({ query }: StaffCall): ChartSpan =>
  query.span === '2' ? 2 : query.span === '365' ? 365 : 30;

/** What the chart draws: readings of two days, else each day's lowest, mean and highest. */
function spansOf(call: StaffCall, placeId: number, days: ChartSpan): Span[] {
  if (days === 2) {
    const now = call.clock.now();
    const readings = readingsSince(call.db, placeId, now - 2 * msPerDay);
    return downsample(
      readings.map(({ at, tempC }) => ({ at, value: tempC })),
      now - 2 * msPerDay,
      now,
      parts,
    );
  }
  return climateDaysSince(call.db, placeId, addDays(call.today, -days)).map((day) => ({
    at: (toEpochDay(day.onDay) + 0.5) * msPerDay,
    low: day.minC,
    middle: day.meanC,
    high: day.maxC,
  }));
}

type Forms = Partial<Pick<RoomPageProps, 'form' | 'sensorForm' | 'fileForm' | 'faults'>>;

export function roomPage(call: StaffCall, place: ClimatePlace, forms: Forms = {}) {
  const { db, today, business } = call;
  const all = placesById(db);
  const measured = new Set([...measuredPlaces(db, addDays(today, -60)), place.id]);
  const kept = keptByMeasuredPlace(db, all, measured).get(place.id) ?? [];
  const newest = newestReadings(db, place.id, 8);
  const said = airSaid(call);
  const { warnings } = airNow(db, said.now);
  const days = spanIn(call);
  return h(RoomPage, {
    furniture: call.furniture,
    place: { id: place.id, fullName: place.fullName },
    units: business.units,
    timeZone: business.timeZone,
    span: days,
    spans: spansOf(call, place.id, days),
    range: commonRange(kept),
    kept: kept.length,
    air: { ...said, warnings: warnings.filter(({ placeId }) => placeId === place.id) },
    newest,
    lastDay: lastReadDay(db, place.id),
    sensors: call.who.role === 'owner' ? sensorsOf(db, place.id) : null,
    form: emptyForm,
    sensorForm: emptyForm,
    fileForm: emptyForm,
    faults: null,
    ...forms,
  });
}

export function showRoom(call: StaffCall): Answer {
  return page(roomPage(call, placeIn(call)));
}
