import { expect } from 'vitest';
import { addressOfOrder, ensureLink } from '../../../server/arrivals/queries-links.ts';
import { reportsOf } from '../../../server/arrivals/queries-reports.ts';
import { firstOfferSettings, saveOfferSettings } from '../../../server/offers/queries.ts';
import { orderRequests } from '../../../server/schema/tables.ts';
import { makeCounted } from '../../support/counted-stock.ts';
import { makeCustomer, makeLine, makeOrder } from '../../support/orders.ts';
import { readyToPack, toPack } from '../../support/packing-day.ts';
import { makeSpecies } from '../../support/stock.ts';
import { cast, testNow } from '../../support/test-app.ts';
import type { Job, JobOf } from './job.ts';

const by = { personId: cast.owner.id, now: testNow };

/** From what is spare to a customer's order whose animals are reserved. */
const sale: Job = async ({ hand, db }) => {
  const kind = makeSpecies(db, { scientificName: 'Exemplum venale' });
  makeCounted(db, kind.id, 300, { code: 'SAL-1' });
  const { id } = makeCustomer(db, { name: 'Berta Buyer' });
  await hand.go('/surplus');
  await hand.sees('SAL-1', 'groups');
  await hand.go(`/orders/new?customer=${id}`);
  await hand.pick('Species, line 1', 'Exemplum venale');
  await hand.type('Groups', '2');
  await hand.type('Dispatch day', '2026-12-01');
  await hand.press('Write the order down');
  await hand.sees('Draft', 'Reserve animals');
  await hand.type('Groups of Exemplum venale from SAL-1', '2');
  await hand.press('Reserve');
  await hand.sees('all reserved');
  await hand.press('Confirm the order');
  await hand.sees('Confirmed');
};

/** The day's parcels: the best way to travel is taken, given back, and the parcel looked at. */
const packingDay: Job = async ({ hand, db }) => {
  readyToPack(db);
  const { order } = toPack(db);
  await hand.go('/parcels/packing');
  await hand.press(`Take this for order ${order.number}`);
  await hand.press('Undo');
  await hand.press(`All options of order ${order.number}`, { role: 'link' });
  expect(hand.page.url()).toContain(`/parcels/orders/${order.number}`);
  await hand.sees('Foam');
};

/** The packing sheet is a PDF that the browser gets as one. */
const packingSheet: Job = async ({ hand, db }) => {
  const order = makeOrder(db, { state: 'confirmed', dispatchOn: '2026-11-26' });
  makeLine(db, order.id, makeSpecies(db).id);
  await hand.go(`/orders/${order.number}`);
  const { type, bytes } = await hand.file('Packing sheet');
  expect([type, bytes.subarray(0, 5).toString()]).toEqual(['application/pdf', '%PDF-']);
};

/** A stranger who bought something says what came. */
const arrival: Job = async ({ hand, db }) => {
  const order = makeOrder(db, { state: 'sent', sentOn: '2026-11-24' });
  makeLine(db, order.id, makeSpecies(db).id);
  ensureLink(db, order, by);
  await hand.go(addressOfOrder(db, order.id, { base: '', now: testNow }) ?? '');
  await hand.unfold('Some are dead or missing');
  await hand.type('Dead', '1');
  await hand.type('Note (if you like)', 'one near the lid');
  await hand.press('Send the report');
  expect(reportsOf(db, order.id)).toHaveLength(1);
  await hand.sees('1');
};

/** A stranger reads the public list and asks for something. */
const request: Job = async ({ hand, db }) => {
  const kind = makeSpecies(db, { scientificName: 'Exemplum publicum' });
  makeCounted(db, kind.id, 300);
  saveOfferSettings(db, { ...firstOfferSettings, isOn: true });
  await hand.go('/available');
  await hand.type('Groups of Exemplum publicum', '1');
  await hand.type('Name', 'Sam Stranger');
  await hand.type('E-mail address', 'sam@example.org');
  await hand.pick('Country', 'Germany');
  await hand.press('Send the request');
  expect(db.select().from(orderRequests).all()).toHaveLength(1);
};

export const orderJobs = {
  'sells what is spare': { job: sale, who: 'owner' },
  'packs a day': { job: packingDay, who: 'owner' },
  'opens a packing sheet': { job: packingSheet, who: 'owner' },
  'tells how they arrived': { job: arrival, who: null },
  'asks for what is on the public list': { job: request, who: null, alone: true },
} satisfies Record<string, JobOf>;
