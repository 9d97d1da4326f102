import { createHmac, randomBytes } from 'node:crypto';
import { h } from 'preact';
import { sensorNameForm } from '../../shared/climate/reading-form.ts';
import { SensorPage } from '../../views/climate/page-sensor.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { sha256 } from '../plumbing/sessions.ts';
import { addSensor, retireSensor, sensorById, sensorNamed } from './queries-places.ts';
import { placeIn, roomPage } from './room.ts';

const processKey = randomBytes(32);

/** A token that only this process can make, and makes again for the same form sent twice; kept nowhere. */
const tokenForForm = (personId: string, formKey: unknown) =>
  createHmac('sha256', processKey)
    .update(JSON.stringify(['sensor', personId, String(formKey)]))
    .digest('base64url');

export function makeSensor(call: StaffCall): Answer {
  const place = placeIn(call);
  const read = readForm(sensorNameForm, call.body);
  if (!read.ok) return wrongForm(roomPage(call, place, { sensorForm: read.form }));
  const { name } = read.data;
  const token = tokenForForm(call.who.id, call.body.formKey);
  const now = call.clock.now();
  const made = call.once((tx) => {
    if (sensorNamed(tx, name)) return null;
    const id = addSensor(tx, {
      placeId: place.id,
      name,
      tokenHash: sha256(token),
      madeBy: call.who.id,
      madeAt: now,
      retiredAt: null,
    });
    note(tx, { at: now, personId: call.who.id, action: 'added', subject: `sensor ${id}`, after: { name } });
    return { id };
  });
  if (made === null) {
    const errors = { name: 'There is a sensor of that name already.' };
    return wrongForm(roomPage(call, place, { sensorForm: withErrors(read.form, errors) }));
  }
  const isShown = sensorById(call.db, made.id)?.tokenHash === sha256(token);
  return page(
    h(SensorPage, {
      furniture: call.furniture,
      place: { id: place.id, fullName: place.fullName },
      name,
      token: isShown ? token : null,
      address: `${ownAddress(call.config)}/api/climate`,
    }),
  );
}

export function stopSensor(call: StaffCall): Answer {
  const sensor = sensorById(call.db, numberIn(call, 'id', 'sensor'));
  if (!sensor) throw notFound('sensor');
  const at = call.clock.now();
  call.once((tx) => {
    retireSensor(tx, sensor.id, at);
    note(tx, { at, personId: call.who.id, action: 'stopped', subject: `sensor ${sensor.id}` });
  });
  return redirect(
    `/climate/${sensor.placeId}`,
    `${sensor.name} is stopped: its token is not taken any more.`,
  );
}
