import { h } from 'preact';
import { extrasField, tickField } from '../../shared/orders/form.ts';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { formatCount } from '../../views/layout/format.ts';
import { PackPage } from '../../views/orders/page-pack.tsx';
import { movementOf } from '../movement/queries.ts';
import { answerBlocked, refuseBlocked } from '../movement/queries-blocked.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormBody, StaffCall } from '../plumbing/call.ts';
import { typed } from '../plumbing/forms.ts';
import { byOf } from './by.ts';
import { isExtrasAs, NotPacked, pack, type Ticked, unpack } from './pack.ts';
import { type LoadedOrder, linesOf, loadOrder } from './queries.ts';
import { allocationsOf } from './queries-allocations.ts';
import { picksToShow } from './show.ts';

function packPage(call: StaffCall, { order, customer }: LoadedOrder, form: FormState) {
  return h(PackPage, {
    furniture: call.furniture,
    order: {
      number: order.number,
      dispatchOn: order.dispatchOn,
      note: order.note,
      customerName: customer.name,
    },
    picks: picksToShow(allocationsOf(call.db, order.id), linesOf(call.db, order.id)),
    movement: movementOf(call.db, order.id, call.today),
    form,
  });
}

export function showPacking(call: StaffCall): Answer {
  const loaded = loadOrder(call.db, numberIn(call, 'number', 'order'));
  const { number, state } = loaded.order;
  if (state !== 'confirmed')
    return redirect(`/orders/${number}`, {
      tone: 'needs-you',
      text: `order ${number} is ${state}, so there is nothing to pack.`,
    });
  return page(packPage(call, loaded, emptyForm));
}

function ticksOf(body: FormBody): Ticked[] {
  return Object.keys(body).flatMap((name) => {
    const pick = /^tick-(\d{1,15}-\d{1,15})$/.exec(name)?.[1];
    if (pick === undefined) return [];
    const extras = body[extrasField(pick)];
    return [{ pick, extras: isExtrasAs(extras) ? extras : 'juveniles' }];
  });
}

export function packOrder(call: StaffCall): Answer {
  const number = numberIn(call, 'number', 'order');
  const loaded = loadOrder(call.db, number);
  try {
    const done = call.once((tx) => {
      if (loaded.order.state === 'confirmed') refuseBlocked(tx, loaded.order, 'packed', call.today);
      return pack(tx, number, ticksOf(call.body), byOf(call));
    });
    return redirect(`/orders/${number}`, {
      text: `Order ${number} is packed: ${done.animals} animals from ${formatCount(done.cultures, 'culture')}, written into their diaries.`,
      tone: 'plain',
      undo: { action: `/orders/${number}/unpack`, label: 'Undo' },
    });
  } catch (error) {
    if (!(error instanceof NotPacked)) return answerBlocked(call, error);
    const errors = Object.fromEntries(
      Object.entries(error.errors).map(([pick, message]) => [tickField(pick), message]),
    );
    return wrongForm(packPage(call, loaded, { ...typed(call.body), errors }));
  }
}

export function unpackOrder(call: StaffCall): Answer {
  const number = numberIn(call, 'number', 'order');
  const { lost } = call.once((tx) => unpack(tx, number, byOf(call)));
  const back = `Order ${number} is not packed any more; the harvests are taken out of the diaries again.`;
  if (lost.length === 0) return redirect(`/orders/${number}`, back);
  return redirect(`/orders/${number}`, {
    tone: 'needs-you',
    text: `${back} The animals from ${lost.join(', ')} could not be reserved again, so the order is a draft.`,
  });
}
