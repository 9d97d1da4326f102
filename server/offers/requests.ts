import { h } from 'preact';
import { RequestPage } from '../../views/offers/page-request.tsx';
import { RequestsPage } from '../../views/offers/page-requests.tsx';
import { insertCustomer, readCustomer } from '../customers/queries.ts';
import { addHistory, insertOrder } from '../orders/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page, redirect } from '../plumbing/answers.ts';
import { note } from '../plumbing/audit.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { conflict, notFound, Refusal } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { orderLines } from '../schema/tables.ts';
import { groupsSpare } from './owner.ts';
import {
  customersLike,
  forgetRequest,
  linesOfRequest,
  listRequests,
  type RequestRow,
  readRequestRow,
  settleRequest,
} from './queries-requests.ts';

const mostListed = 200;

export function showRequests(call: StaffCall): Answer {
  const rows = listRequests(call.db, mostListed);
  return page(h(RequestsPage, { furniture: call.furniture, rows, timeZone: call.business.timeZone }));
}

function requestIn(call: StaffCall, db: Db): RequestRow {
  const found = readRequestRow(db, numberIn(call, 'id', 'request'));
  if (!found) throw notFound('request');
  return found;
}

export function showRequest(call: StaffCall): Answer {
  const request = requestIn(call, call.db);
  const lines = linesOfRequest(call.db, request.id).map(({ speciesId: id, ...line }) => ({
    ...line,
    speciesId: id,
    spare: groupsSpare(call, { id, ...line }),
  }));
  const alike = request.state === 'new' ? customersLike(call.db, request) : [];
  const { furniture, business } = call;
  return page(h(RequestPage, { furniture, request, lines, alike, timeZone: business.timeZone }));
}

function mustBeNew(request: RequestRow) {
  if (request.state !== 'new')
    throw conflict(`Request ${request.id} is ${request.state} already. Look at it again.`);
}

/** The customer whom a request is taken for: one that is known, or the person who wrote, as a new one. */
function customerFor(tx: Db, call: StaffCall, request: RequestRow): number {
  const said = call.body.customer;
  if (said !== undefined) {
    const known = typeof said === 'string' && /^[1-9]\d{0,14}$/.test(said) && readCustomer(tx, Number(said));
    if (!known || known.retiredAt !== null)
      throw new Refusal(
        409,
        'No such customer',
        'This customer is not there any more. Look at the request again.',
      );
    return known.id;
  }
  const { name, email, street, postcode, city, region, country, language } = request;
  const { units, paper } = call.business;
  const at = call.clock.now();
  const person = { name, email, phone: '', street, postcode, city, region, country, language, units, paper };
  const values = { ...person, note: '', retiredAt: null };
  const id = insertCustomer(tx, values, { madeBy: call.who.id, madeAt: at });
  note(tx, { at, personId: call.who.id, action: 'added', subject: `customer ${id}`, after: values });
  return id;
}

function writeDraft(tx: Db, call: StaffCall, request: RequestRow) {
  const by = { personId: call.who.id, now: call.clock.now(), today: call.today };
  const order = insertOrder(tx, {
    customerId: customerFor(tx, call, request),
    state: 'draft',
    currency: request.currency,
    postageMinor: 0,
    dispatchOn: null,
    note: request.note,
    language: request.language,
    version: 1,
    madeBy: by.personId,
    madeAt: by.now,
  });
  for (const [position, line] of linesOfRequest(tx, request.id).entries()) {
    const { speciesId, groups, priceMinor, groupAdults, groupJuveniles, groupExtras } = line;
    const makeUp = { groupAdults, groupJuveniles, groupExtras };
    tx.insert(orderLines)
      .values({ orderId: order.id, position, speciesId, groups, priceMinor, ...makeUp })
      .run();
  }
  addHistory(tx, order.id, 'draft', `Asked for on the public list (request ${request.id}).`, by);
  return order;
}

export function takeRequest(call: StaffCall): Answer {
  const { id } = requestIn(call, call.db);
  const number = call.once((tx) => {
    const request = requestIn(call, tx);
    mustBeNew(request);
    const order = writeDraft(tx, call, request);
    const at = call.clock.now();
    settleRequest(tx, id, { state: 'taken', orderId: order.id, settledBy: call.who.id, settledAt: at });
    note(tx, {
      at,
      personId: call.who.id,
      action: 'taken',
      subject: `request ${id}`,
      after: { order: order.number },
    });
    return order.number;
  });
  return redirect(
    `/orders/${number}`,
    `Request ${id} is order ${number} now, a draft. Reserve its animals next.`,
  );
}

export function refuseRequest(call: StaffCall): Answer {
  const { id } = requestIn(call, call.db);
  call.once((tx) => {
    mustBeNew(requestIn(call, tx));
    const at = call.clock.now();
    settleRequest(tx, id, { state: 'refused', orderId: null, settledBy: call.who.id, settledAt: at });
    note(tx, { at, personId: call.who.id, action: 'refused', subject: `request ${id}` });
  });
  return redirect('/requests', {
    text: `Request ${id} is refused.`,
    tone: 'plain',
    undo: { action: `/requests/${id}/reopen`, label: 'Undo' },
  });
}

/** A refusal taken back. */
export function reopenRequest(call: StaffCall): Answer {
  const { id } = requestIn(call, call.db);
  call.once((tx) => {
    const { state } = requestIn(call, tx);
    if (state !== 'refused') throw conflict(`Request ${id} is ${state}, not refused. Look at it again.`);
    settleRequest(tx, id, { state: 'new', orderId: null, settledBy: null, settledAt: null });
    note(tx, { at: call.clock.now(), personId: call.who.id, action: 'reopened', subject: `request ${id}` });
  });
  return redirect(`/requests/${id}`, `Request ${id} waits for you again.`);
}

/** Takes whoever wrote it out of a request that is settled. */
export function forgetWriter(call: StaffCall): Answer {
  const { id } = requestIn(call, call.db);
  call.once((tx) => {
    if (requestIn(call, tx).state === 'new') throw conflict('Take or refuse this request first.');
    forgetRequest(tx, id);
    note(tx, { at: call.clock.now(), personId: call.who.id, action: 'erased', subject: `request ${id}` });
  });
  return redirect('/requests', `Nobody is named in request ${id} any more.`);
}
