import { h } from 'preact';
import { type AmendsValues, amendsForm, missingFor } from '../../shared/arrivals/amends-form.ts';
import { AmendsPage } from '../../views/arrivals/page-amends.tsx';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { type Order, orderByNumber } from '../orders/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import { readForm, withErrors } from '../plumbing/forms.ts';
import type { Db } from '../plumbing/open-database.ts';
import { orderIn } from './links.ts';
import { endAmends, insertAmends } from './queries-amends.ts';

const amendsPage = (call: StaffCall, { number, currency }: Order, form: FormState) =>
  h(AmendsPage, { furniture: call.furniture, number, currency, form });

/** Something can only have happened to animals that have left. */
function leftOrder(call: StaffCall): Order {
  const order = orderIn(call);
  if (order.state !== 'sent' && order.state !== 'closed')
    throw conflict(`Order ${order.number} is ${order.state}: nothing has been sent yet.`);
  return order;
}

export const askAmends = (call: StaffCall): Answer => page(amendsPage(call, leftOrder(call), emptyForm));

type Wrong = { errors: Record<string, string> };

function keep(
  tx: Db,
  order: Order,
  values: AmendsValues,
  by: { personId: string; now: number },
): Wrong | { id: number } {
  const { kind, amount, newOrder, reason } = values;
  const isAgain = kind === 'reship';
  const other = isAgain && newOrder !== undefined ? orderByNumber(tx, newOrder) : undefined;
  if (isAgain && (!other || other.id === order.id || other.state === 'cancelled'))
    return { errors: { newOrder: 'Write the number of another order that was not cancelled.' } };
  const row = { kind, amountMinor: isAgain ? null : (amount ?? null), newOrderId: other?.id ?? null, reason };
  const id = insertAmends(tx, { ...row, orderId: order.id, madeBy: by.personId, madeAt: by.now });
  note(tx, {
    at: by.now,
    personId: by.personId,
    action: `wrote down a ${kind}`,
    subject: `order ${order.id}`,
    after: row,
  });
  return { id };
}

export function addAmends(call: StaffCall): Answer {
  const order = leftOrder(call);
  const read = readForm(amendsForm(order.currency), call.body);
  if (!read.ok) return wrongForm(amendsPage(call, order, read.form));
  const missing = missingFor(read.data);
  if (Object.keys(missing).length > 0)
    return wrongForm(amendsPage(call, order, withErrors(read.form, missing)));
  const by = { personId: call.who.id, now: call.clock.now() };
  const kept = call.once((tx) => keep(tx, order, read.data, by));
  if ('errors' in kept) return wrongForm(amendsPage(call, order, withErrors(read.form, kept.errors)));
  return redirect(`/orders/${order.number}`, {
    text: 'It is written down.',
    tone: 'plain',
    undo: { action: `/orders/${order.number}/amends/${kept.id}/end`, label: 'Undo' },
  });
}

export function takeAmendsBack(call: StaffCall): Answer {
  const order = orderIn(call);
  const id = numberIn(call, 'id', 'entry');
  const by = { personId: call.who.id, now: call.clock.now() };
  call.once((tx) => {
    if (!endAmends(tx, order.id, id, by)) throw conflict('This was taken back already.');
    note(tx, {
      at: by.now,
      personId: by.personId,
      action: 'took back',
      subject: `amends ${id} of order ${order.id}`,
    });
    return true;
  });
  return redirect(`/orders/${order.number}`, 'It is taken back.');
}
