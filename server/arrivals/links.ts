import { loadOrder } from '../orders/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict, notFound } from '../plumbing/errors.ts';
import { endLink, renewLink } from './queries-links.ts';
import { markSeen, photoBytesOf } from './queries-reports.ts';

const byOf = (call: StaffCall) => ({ personId: call.who.id, now: call.clock.now() });

export const orderIn = (call: StaffCall) => loadOrder(call.db, numberIn(call, 'number', 'order')).order;

export function makeLink(call: StaffCall): Answer {
  const order = orderIn(call);
  if (order.state === 'draft' || order.state === 'cancelled')
    throw conflict(`Order ${order.number} is ${order.state}: it has no page for its customer.`);
  const by = byOf(call);
  call.once((tx) => {
    const { id } = renewLink(tx, order, by);
    note(tx, {
      at: by.now,
      personId: by.personId,
      action: 'made an address',
      subject: `order ${order.id}`,
      after: { link: id },
    });
    return true;
  });
  return redirect(`/orders/${order.number}#customer-page`, 'The customer’s page has a new address.');
}

export function closeLink(call: StaffCall): Answer {
  const order = orderIn(call);
  const by = byOf(call);
  call.once((tx) => {
    if (endLink(tx, order.id, by))
      note(tx, {
        at: by.now,
        personId: by.personId,
        action: 'closed the address',
        subject: `order ${order.id}`,
      });
    return true;
  });
  return redirect(
    `/orders/${order.number}#customer-page`,
    'The customer’s page is closed: its address opens nothing any more.',
  );
}

export function seeArrival(call: StaffCall): Answer {
  const order = orderIn(call);
  call.once((tx) => markSeen(tx, order.id, byOf(call)));
  return redirect(`/orders/${order.number}`, 'Marked as seen.');
}

export function showArrivalPhoto(call: StaffCall): Answer {
  const id = numberIn(call, 'id', 'photo');
  const bytes = photoBytesOf(call.db, orderIn(call).id, id);
  if (!bytes) throw notFound('photo');
  return { kind: 'file', body: bytes, type: 'image/jpeg', fileName: `arrival-${id}.jpg`, inline: true };
}
