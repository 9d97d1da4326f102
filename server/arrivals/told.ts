import { randomUUID } from 'node:crypto';
import { h } from 'preact';
import { type ReadReport, readReport } from '../../shared/arrivals/report-form.ts';
import { ToldPage } from '../../views/arrivals/page-told.tsx';
import type { Order } from '../orders/queries.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import { orderIn } from './links.ts';
import { type Kept, keepReport, type SentSpecies, sentOf } from './queries-reports.ts';

type Back = { values: Record<string, string>; faults: ReadReport['faults']; isEnough: boolean };
const nothingTyped: Back = { values: {}, faults: new Map(), isEnough: false };

function told(call: StaffCall): { order: Order; sent: SentSpecies[] } {
  const order = orderIn(call);
  if (order.state !== 'sent' && order.state !== 'closed')
    throw conflict(`Order ${order.number} is ${order.state}: nothing has been sent yet.`);
  return { order, sent: sentOf(call.db, order.id) };
}

const toldPage = (call: StaffCall, order: Order, sent: SentSpecies[], back: Back) =>
  h(ToldPage, { furniture: call.furniture, number: order.number, sent, ...back });

export function askTold(call: StaffCall): Answer {
  const { order, sent } = told(call);
  return page(toldPage(call, order, sent, nothingTyped));
}

/** Writes down what the customer told by telephone or letter, as a report like their own. */
export function writeTold(call: StaffCall): Answer {
  const { order, sent } = told(call);
  const values: Record<string, string> = {};
  for (const [name, value] of Object.entries(call.body)) values[name] = String([value].flat().at(-1) ?? '');
  const isWell = values.all === 'well';
  const { losses, note, faults } = readReport(sent, (name) => values[name] ?? '');
  if (!isWell && faults.size > 0)
    return wrongForm(toldPage(call, order, sent, { values, faults, isEnough: false }));
  const said = isWell ? { losses: [], note: '' } : { losses, note };
  // `once` knows the form again; the report's own key only has to be new.
  const from = { formKey: randomUUID(), writtenBy: call.who.id, now: call.clock.now() };
  const kept = call.once<Kept>((tx) => keepReport(tx, { orderId: order.id, photos: [], ...said, ...from }));
  if (kept === 'enough')
    return wrongForm(toldPage(call, order, sent, { values, faults: new Map(), isEnough: true }));
  return redirect(`/orders/${order.number}#arrival`, 'It is written down.');
}
