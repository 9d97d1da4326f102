import { and, desc, eq, gte, sql } from 'drizzle-orm';
import { readEstimates, refreshEstimate } from '../../server/counts/queries-estimate.ts';
import { populationKinds } from '../../server/cultures/queries-diary.ts';
import { insertCustomer } from '../../server/customers/queries.ts';
import { pack } from '../../server/orders/pack.ts';
import { type By, linesOf, loadOrder } from '../../server/orders/queries.ts';
import { allocationsOf } from '../../server/orders/queries-allocations.ts';
import { reserve } from '../../server/orders/reserve.ts';
import { addOrder } from '../../server/orders/save.ts';
import { cancel, close, confirm, markSent } from '../../server/orders/steps.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { cultureEstimates, cultures, species, standingDiary } from '../../server/schema/tables.ts';
import { addDays, daysBetween } from '../../shared/days.ts';
import { picksOf } from '../../shared/orders/picks.ts';
import type { OrderState } from '../../shared/orders/states.ts';
import { languages } from '../../shared/settings/languages.ts';
import { weekStart } from '../../shared/settings/week.ts';
import { noonOf } from './write-story.ts';

/** Invented people at addresses that do not exist. */
const customers = [
  { name: 'Maya Example', street: '12 Sample Street', postcode: 'EX2 4AB', city: 'Exampleton' },
  { name: 'Jón Ágúst Dæmisson', street: '3 Specimen Row\nFlat 2', postcode: 'EX7 1QQ', city: 'Testbury' },
  { name: 'Zoë Müller-Beispiel', street: '88 Placeholder Lane', postcode: 'EX9 9ZZ', city: 'Mockham' },
  { name: 'Nguyễn Thị Ví Dụ', street: '5 Instance Close', postcode: 'EX4 6TT', city: 'Exampleton' },
  { name: '見本 花子', street: '3 Specimen Row', postcode: 'EX7 1QQ', city: 'Testbury' },
  { name: 'מרים דוגמה', street: '14 Placeholder Lane\n(קומה 2)', postcode: 'EX9 9ZZ', city: 'Mockham' },
  { name: 'The Example School, Year 4', street: 'Fictional Road', postcode: 'EX1 1AA', city: 'Testbury' },
  { name: 'Ailsa Placeholder', street: '2 Specimen Brae', postcode: 'NX3 4AA', city: 'Northwick' },
  { name: 'Omar Sample', street: '30 Instance Hill', postcode: 'HX1 2BB', city: 'Hotvale' },
  { name: 'Pia Mockup', street: '17 Example Quay', postcode: 'SX5 6CC', city: 'Southhaven' },
];

/** What each order of the demo has become; `day` is when it was packed or is to be packed, counted from today. */
const plan: { state: OrderState; lines: number; day: number | 'friday'; customer?: number }[] = [
  { state: 'closed', lines: 1, day: -6 },
  { state: 'sent', lines: 1, day: -1 },
  { state: 'packed', lines: 1, day: 0 },
  { state: 'confirmed', lines: 2, day: 0 },
  { state: 'confirmed', lines: 2, day: 0 },
  { state: 'confirmed', lines: 1, day: 1 },
  { state: 'cancelled', lines: 1, day: 2 },
  { state: 'draft', lines: 2, day: 5 },
  // To somewhere cold, somewhere hot, and over a weekend.
  { state: 'confirmed', lines: 1, day: 1, customer: 7 },
  { state: 'confirmed', lines: 1, day: 1, customer: 8 },
  { state: 'confirmed', lines: 1, day: 'friday', customer: 9 },
];
/** The others are of the first customers in turn. */
const inTurn = 7;

/** In how many days the next Friday is, today being one of them. */
const daysToFriday = (today: string) => 4 - daysBetween(weekStart(today, 1), today);
const daysUntil = (day: number | 'friday', today: string) =>
  day === 'friday' ? (daysToFriday(today) + 7) % 7 : day;

/** Cultures with a group to spare on that day, and nothing written since that would have to be worked out again. */
function spareOn(tx: Db, day: string, used: Set<number>) {
  return tx
    .select({ id: cultures.id, speciesId: cultures.speciesId })
    .from(cultureEstimates)
    .innerJoin(cultures, eq(cultures.id, cultureEstimates.cultureId))
    .innerJoin(species, and(eq(species.id, cultures.speciesId), eq(species.sellable, true)))
    .where(
      and(
        gte(cultureEstimates.spareGroups, 1),
        sql`NOT EXISTS (SELECT 1 FROM ${standingDiary} d WHERE d.culture_id = ${cultures.id} AND d.on_day >= ${day}
          AND d.kind IN (SELECT value FROM json_each(${JSON.stringify(populationKinds)})))`,
      ),
    )
    .orderBy(desc(cultureEstimates.spareGroups), cultures.id)
    .all()
    .filter((row) => !used.has(row.id));
}

function packAll(tx: Db, number: number, by: By) {
  const { order } = loadOrder(tx, number);
  const picks = picksOf(allocationsOf(tx, order.id), linesOf(tx, order.id));
  pack(
    tx,
    number,
    picks.map((pick) => ({ pick: pick.key, extras: 'juveniles' as const })),
    by,
  );
}

/** Takes an order along to the state it has in the demo. */
function bringTo(tx: Db, number: number, state: OrderState, day: string, by: (on: string) => By) {
  if (state === 'draft') return;
  if (state === 'cancelled') {
    cancel(tx, number, 'The customer moves house and will order again.', by(day));
    return;
  }
  confirm(tx, number, by(day));
  if (state === 'confirmed') return;
  packAll(tx, number, by(day));
  if (state === 'packed') return;
  markSent(tx, number, { sentOn: day, tracking: '', trackingLink: '', tell: false }, by(day));
  if (state === 'closed') close(tx, number, by(addDays(day, 3)));
}

/** What three more drafts of one packing day ask for: groups of the n-th species that can spare the most. */
const draftDay = 5;
const drafts: { kind: number; groups: number; separateLines?: 'yes' }[][] = [
  [{ kind: 0, groups: 3, separateLines: 'yes' }],
  [
    { kind: 0, groups: 1 },
    { kind: 1, groups: 2 },
  ],
  [
    { kind: 1, groups: 1 },
    { kind: 2, groups: 2 },
  ],
];

/** Several drafts for one day, so that animals can be proposed for all of them at once. */
function writeDrafts(tx: Db, today: string, customerIds: readonly number[], by: By) {
  const kinds = [...new Set(spareOn(tx, today, new Set()).map((row) => row.speciesId))];
  for (const [i, wanted] of drafts.entries()) {
    const lines = wanted.flatMap(({ kind, ...line }, row) => {
      const species = kinds[kind];
      return species === undefined ? [] : [{ row, species, ...line }];
    });
    const customer = customerIds[i % customerIds.length]!;
    const head = { customer, dispatchOn: addDays(today, draftDay), postage: 795, note: '' };
    if (lines.length > 0) addOrder(tx, { head, lines }, 'GBP', by);
  }
}

/** Returns their numbers, in the order of the list. */
function writeCustomers(tx: Db, personId: string, today: string): number[] {
  return customers.map((c, i) =>
    insertCustomer(
      tx,
      {
        ...c,
        email: `customer${i + 1}@example.org`,
        phone: '',
        region: '',
        country: 'GB',
        units: 'metric',
        paper: 'A4',
        language: languages[i % languages.length] ?? 'en',
        note: '',
        retiredAt: null,
      },
      { madeBy: personId, madeAt: noonOf(addDays(today, -60)) },
    ),
  );
}

/** Orders in every state, with real reservations against what the estimates say is spare. */
export function writeOrders(tx: Db, today: string, personId: string) {
  const by = (on: string): By => ({ personId, now: noonOf(on), today: on });
  const ids = writeCustomers(tx, personId, today);
  const used = new Set<number>();
  for (const [i, { state, lines, day, customer }] of plan.entries()) {
    const ahead = daysUntil(day, today);
    const on = addDays(today, Math.min(ahead, 0));
    const chosen: { id: number; speciesId: number }[] = [];
    for (const row of spareOn(tx, on, used)) {
      if (chosen.length < lines && !chosen.some((c) => c.speciesId === row.speciesId)) chosen.push(row);
    }
    if (chosen.length === 0) continue;
    for (const { id } of chosen) {
      used.add(id);
      refreshEstimate(tx, id, on, noonOf(on));
    }
    const able = readEstimates(
      tx,
      chosen.map((c) => c.id),
    );
    const wanted = chosen.filter((c) => (able.get(c.id)?.spareGroups ?? 0) > 0);
    if (wanted.length === 0) continue;
    const dispatchOn = addDays(today, ahead);
    const head = { customer: ids[customer ?? i % inTurn]!, dispatchOn, postage: 795, note: '' };
    const number = addOrder(
      tx,
      { head, lines: wanted.map((c, row) => ({ row, species: c.speciesId, groups: 1 })) },
      'GBP',
      by(on),
    );
    const { order } = loadOrder(tx, number);
    const written = linesOf(tx, order.id);
    if (state !== 'draft') {
      const wishes = wanted.map((c) => ({
        lineId: written.find((l) => l.speciesId === c.speciesId)!.id,
        cultureId: c.id,
        groups: 1,
      }));
      reserve(tx, number, wishes, null, by(on));
    }
    bringTo(tx, number, state, on, by);
    for (const { id } of chosen) refreshEstimate(tx, id, today, noonOf(today));
  }
  writeDrafts(tx, today, ids, by(today));
}
