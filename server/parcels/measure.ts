import { h } from 'preact';
import { CalculationError } from '../../shared/faults.ts';
import {
  type BoxConductance,
  boxConductance,
  type LogReading,
} from '../../shared/parcels/box-conductance.ts';
import { conductanceOf } from '../../shared/parcels/conductance.ts';
import { WATER_J_PER_KG_K } from '../../shared/parcels/handbook.ts';
import { readLog } from '../../shared/parcels/log-file.ts';
import { logForm } from '../../shared/parcels/log-form.ts';
import { storedMass } from '../../shared/parcels/typed-mass.ts';
import { shownNumber } from '../../shared/settings/typed-units.ts';
import { LogPage } from '../../views/parcels/page-log.tsx';
import { MeasurePage, type MeasurePageProps } from '../../views/parcels/page-measure.tsx';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import { boxIn, subjectOfBox } from './box.ts';
import { type Box, boxOptionOf, insertBoxLog, readBoxLog, updateBox } from './queries-stock.ts';

function measurePage(call: StaffCall, box: Box, form: FormState, faults: MeasurePageProps['faults'] = []) {
  return h(MeasurePage, { furniture: call.furniture, box, form, faults, units: call.business.units });
}

export function askMeasure(call: StaffCall): Answer {
  const values = { heatCapacity: shownNumber(WATER_J_PER_KG_K / 1_000, 3) };
  return page(measurePage(call, boxIn(call), { values, errors: {} }));
}

/** The fit, or the words for why there is none. */
function fitOf(
  readings: readonly LogReading[],
  massG: number,
  heatCapacityJPerKgK: number,
): BoxConductance | string {
  try {
    return boxConductance(readings, { massKg: massG / 1_000, heatCapacityJPerKgK });
  } catch (error) {
    if (error instanceof CalculationError) return `The readings ${error.message}.`;
    throw error;
  }
}

const rounded = (value: number) => Math.round(value * 1e4) / 1e4;

/** Reads a log, fits the box to it and keeps both; nothing changes for the box until it is taken over. */
export function measureBox(call: StaffCall): Answer {
  const box = boxIn(call);
  const read = readForm(logForm, call.body);
  if (!read.ok) return wrongForm(measurePage(call, box, read.form));
  const upload = call.uploads.find(({ field }) => field === 'file');
  const field = upload ? 'file' : 'log';
  const text = upload ? upload.bytes.toString('utf8') : (read.data.log ?? '');
  const log = readLog(text, call.business.units === 'us');
  const wrong = (message: string) =>
    wrongForm(measurePage(call, box, withErrors(read.form, { [field]: message }), log.faults));
  if (text.trim() === '') return wrong('Choose a file, or paste the log.');
  if (log.refusal !== null) return wrong(log.refusal);
  const massG = storedMass(read.data.mass, call.business.units);
  const fit = fitOf(log.readings, massG, read.data.heatCapacity * 1_000);
  if (typeof fit === 'string') return wrong(fit);
  const at = call.clock.now();
  const id = call.once((tx) =>
    insertBoxLog(tx, {
      boxId: box.id,
      contentsMassG: massG,
      contentsJPerKgK: read.data.heatCapacity * 1_000,
      readings: log.readings.map(({ hour, insideC, outsideC }) => [
        rounded(hour),
        rounded(insideC),
        rounded(outsideC),
      ]),
      conductanceWPerK: fit.conductanceWPerK,
      standardError: fit.standardError,
      lowerWPerK: fit.lowerWPerK,
      upperWPerK: fit.upperWPerK,
      madeBy: call.who.id,
      madeAt: at,
    }),
  );
  const leftOut = log.leftOut > 0 ? ` ${log.leftOut} of its lines could not be read and are left out.` : '';
  return redirect(`/parcels/boxes/${box.id}/logs/${id}`, `The log is read.${leftOut}`);
}

function logIn(call: StaffCall, box: Box) {
  const log = readBoxLog(call.db, box.id, numberIn(call, 'log', 'log'));
  if (!log) throw notFound('log');
  return log;
}

export function showLog(call: StaffCall): Answer {
  const box = boxIn(call);
  const log = logIn(call, box);
  const readings = log.readings.map(([hour, insideC, outsideC]) => ({ hour, insideC, outsideC }));
  const fit = fitOf(readings, log.contentsMassG, log.contentsJPerKgK);
  return page(
    h(LogPage, {
      furniture: call.furniture,
      box,
      log,
      readings,
      fittedC: typeof fit === 'string' ? [] : fit.fittedC,
      residualC: typeof fit === 'string' ? null : fit.residualC,
      byWallWPerK: conductanceOf(boxOptionOf({ ...box, conductanceWPerK: null })),
      isTaken: box.conductanceLogId === log.id,
      units: call.business.units,
      timeZone: call.business.timeZone,
      mayEdit: call.who.role === 'owner',
    }),
  );
}

/** The measured conductance becomes the box's own, with the log as its evidence. */
export function takeOver(call: StaffCall): Answer {
  const box = boxIn(call);
  const log = logIn(call, box);
  const at = call.clock.now();
  call.once((tx) => {
    const after = { conductanceWPerK: log.conductanceWPerK, conductanceLogId: log.id };
    const before = { conductanceWPerK: box.conductanceWPerK, conductanceLogId: box.conductanceLogId };
    updateBox(tx, box.id, after);
    note(tx, {
      at,
      personId: call.who.id,
      action: 'took a measurement',
      subject: subjectOfBox(box.id),
      before,
      after,
    });
  });
  return redirect('/parcels/stock', `${box.name} now goes by its measurement.`);
}
