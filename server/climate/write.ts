import { type ReadFile, readReadings } from '../../shared/climate/reading-file.ts';
import { handReadingForm } from '../../shared/climate/reading-form.ts';
import { COLDEST_C, WARMEST_C } from '../../shared/climate/vapour.ts';
import { fieldUnitsOf, storedFromField } from '../../shared/settings/typed-units.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { instantInZone } from '../../shared/zone-instant.ts';
import { formatCount } from '../../views/layout/format.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, typed, withErrors } from '../plumbing/forms.ts';
import { insertReadings, readReading, withdrawReading } from './queries-readings.ts';
import { closedDays } from './queries-thinning.ts';
import { placeIn, roomPage } from './room.ts';

const minutesOf = (time: string) => Number(time.slice(0, 2)) * 60 + Number(time.slice(3));

/** When a reading was taken: now, unless a day or a time was given. */
function instantOf(call: StaffCall, { onDay, time }: { onDay?: string; time?: string }): number {
  if (onDay === undefined && time === undefined) return call.clock.now();
  return instantInZone(
    onDay ?? call.today,
    time === undefined ? 720 : minutesOf(time),
    call.business.timeZone,
  );
}

/** Single readings of that day are gone, so what it came to cannot be worked out anew. */
const isClosed = ({ db, business }: StaffCall, placeId: number, at: number) =>
  closedDays(db, placeId, [dayInZone(at, business.timeZone)]).size > 0;

export function addReading(call: StaffCall): Answer {
  const place = placeIn(call);
  const read = readForm(handReadingForm, call.body);
  if (!read.ok) return wrongForm(roomPage(call, place, { form: read.form }));
  const { timeZone, units } = call.business;
  const now = call.clock.now();
  const tempC = storedFromField(read.data.temp, fieldUnitsOf(units).temp);
  const at = instantOf(call, read.data);
  const errors: Record<string, string> = {};
  if (!(tempC >= COLDEST_C && tempC <= WARMEST_C)) errors.temp = 'No room has such a temperature.';
  if (at > now)
    errors[read.data.onDay !== undefined && read.data.onDay > call.today ? 'onDay' : 'time'] =
      'That is still to come.';
  if (isClosed(call, place.id, at))
    errors.onDay = 'The readings of that day are summed up: it takes no more.';
  if (Object.keys(errors).length > 0)
    return wrongForm(roomPage(call, place, { form: withErrors(read.form, errors) }));
  const reading = { at, tempC, humidityPct: read.data.humidity ?? null };
  const from = { placeId: place.id, timeZone, now, via: 'page' as const, madeBy: call.who.id };
  const added = call.once((tx) => insertReadings(tx, [reading], from));
  return redirect(
    `/climate/${place.id}`,
    added > 0
      ? 'The reading is written down.'
      : 'A reading of that moment is there already: take it out first.',
  );
}

export function takeOutReading(call: StaffCall): Answer {
  const place = placeIn(call);
  const reading = readReading(call.db, place.id, numberIn(call, 'reading', 'reading'));
  if (!reading) throw notFound('reading');
  const by = { personId: call.who.id, now: call.clock.now() };
  const isOut = call.once((tx) => {
    const stored = readReading(tx, place.id, reading.id);
    return stored?.withdrawnAt === null ? withdrawReading(tx, stored, by) : true;
  });
  return redirect(
    `/climate/${place.id}`,
    isOut ? 'The reading is taken out.' : 'The readings of that day are summed up: none can be taken out.',
  );
}

function notRead(file: ReadFile): string {
  return file.leftOut > 0 ? `; ${formatCount(file.leftOut, 'row was', 'rows were')} left out` : '';
}

export function bringReadings(call: StaffCall): Answer {
  const place = placeIn(call);
  const { timeZone, units } = call.business;
  const now = call.clock.now();
  const wrong = (message: string, faults: ReadFile['faults'] | null = null) =>
    wrongForm(roomPage(call, place, { fileForm: withErrors(typed({}), { file: message }), faults }));
  const upload = call.uploads.find(({ field }) => field === 'file');
  if (!upload) return wrong('Choose a CSV file.');
  const file = readReadings(upload.bytes.toString('utf8'), { timeZone, isUs: units === 'us', now });
  if (file.refusal) return wrong(file.refusal);
  if (file.readings.length === 0) return wrong('No row of the file could be read.', file.faults);
  const from = { placeId: place.id, timeZone, now, via: 'file' as const, madeBy: call.who.id };
  const added = call.once((tx) => insertReadings(tx, file.readings, from));
  const there = file.readings.length - added;
  const words = `${formatCount(added, 'reading is', 'readings are')} brought in${there > 0 ? `, ${there} were there already or are of days that are summed up` : ''}${notRead(file)}.`;
  const why = file.faults.slice(0, 3).map(({ line, why: reason }) => ` Line ${line}: ${reason}.`);
  return redirect(`/climate/${place.id}`, `${words}${why.join('')}`);
}
