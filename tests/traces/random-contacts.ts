import { appendEntry } from '../../server/cultures/queries-diary.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { writeContact } from '../../server/traces/queries-contacts.ts';
import { addDays } from '../../shared/days.ts';
import type { Contact } from '../../shared/lines/form.ts';
import { makeOrder } from '../support/orders.ts';
import type { Random } from '../support/random.ts';
import { makeCulture, makeEnclosure, makeSpecies } from '../support/stock.ts';
import { testNow } from '../support/test-app.ts';

const by = { madeBy: null, madeAt: testNow };

/** Cultures of one species, K0 to K9 and on; written straight into the tables. */
export function manyCultures(db: Db, howMany: number): number[] {
  const same = { speciesId: makeSpecies(db).id, enclosureId: makeEnclosure(db).id, placeId: null };
  return Array.from({ length: howMany }, (_, i) => makeCulture(db, { ...same, code: `K${i}` }).id);
}

/**
 * Contacts drawn by chance over so many days before 25 November 2026 and written where their kind is written; returns
 * them as they were meant, each once.
 */
export function randomContacts(
  db: Db,
  random: Random,
  ids: readonly number[],
  howMany: number,
  days: number,
): Contact[] {
  const orders = Array.from({ length: 5 }, (_, i) => makeOrder(db, { number: 700 + i }));
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random.uniform() * list.length)]!;
  const meant = new Map<string, Contact>();
  for (let i = 0; i < howMany; i += 1) {
    const onDay = addDays('2026-11-25', -Math.floor(random.uniform() * days));
    const fromId = pick(ids);
    const toId = pick(ids.filter((id) => id !== fromId));
    const entry = { ...by, onDay, via: 'page' } as const;
    const [from, to] = [`K${ids.indexOf(fromId)}`, `K${ids.indexOf(toId)}`];
    const kind = pick(['split', 'seeding', 'feeders', 'addition', 'shared tool', 'order'] as const);
    const order = pick(orders);
    if (kind === 'split')
      appendEntry(db, { ...entry, cultureId: fromId, kind, animals: 9, otherCultureId: toId });
    else if (kind === 'feeders')
      appendEntry(db, { ...entry, cultureId: toId, kind: 'feed', otherCultureId: fromId });
    else if (kind === 'addition')
      appendEntry(db, { ...entry, cultureId: toId, kind, animals: 9, otherCultureId: fromId });
    else if (kind === 'order')
      appendEntry(db, { ...entry, cultureId: fromId, kind: 'harvest', animals: 9, orderId: order.id });
    else writeContact(db, { onDay, fromId, toId, kind }, by);
    const contact = { date: onDay, from, to: kind === 'order' ? String(order.number) : to, kind };
    meant.set(JSON.stringify(contact), contact);
  }
  return [...meant.values()];
}

/** Whom a trace reaches and first when, found by going over the list until nothing changes any more. */
export function plainReach(list: readonly Contact[], start: string, since: string): Map<string, string> {
  const days = new Map([[start, since]]);
  for (let changed = true; changed; ) {
    changed = false;
    for (const { date, from, to, kind } of list) {
      const key = kind === 'order' ? `order ${to}` : to;
      const [reached, old] = [days.get(from), days.get(key)];
      if (reached === undefined || reached > date || (old !== undefined && old <= date)) continue;
      days.set(key, date);
      changed = true;
    }
  }
  days.delete(start);
  return days;
}

/** From whom something can have come, and last when: the same backward. */
export function plainSources(list: readonly Contact[], start: string, until: string): Map<string, string> {
  const days = new Map([[start, until]]);
  for (let changed = true; changed; ) {
    changed = false;
    for (const { date, from, to, kind } of list) {
      if (kind === 'order') continue;
      const [passes, old] = [days.get(to), days.get(from)];
      if (passes === undefined || date > passes || (old !== undefined && old >= date)) continue;
      days.set(from, date);
      changed = true;
    }
  }
  days.delete(start);
  return days;
}
