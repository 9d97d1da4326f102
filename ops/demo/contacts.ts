import { and, desc, eq, inArray, isNotNull } from 'drizzle-orm';
import type { Db } from '../../server/plumbing/open-database.ts';
import { allocations, cultures, standingDiary } from '../../server/schema/tables.ts';
import { type NewContact, writeContact } from '../../server/traces/queries-contacts.ts';
import { addDays } from '../../shared/days.ts';
import { noonOf } from './write-story.ts';

/** Cultures that animals were packed from lately, with the day, and those with open promises. */
function soldFrom(tx: Db) {
  const packed = tx
    .select({ id: standingDiary.cultureId, onDay: standingDiary.onDay })
    .from(standingDiary)
    .where(and(eq(standingDiary.kind, 'harvest'), isNotNull(standingDiary.orderId)))
    .orderBy(desc(standingDiary.onDay), standingDiary.cultureId)
    .all();
  const promised = tx
    .selectDistinct({ id: allocations.cultureId })
    .from(allocations)
    .where(eq(allocations.state, 'reserved'))
    .orderBy(allocations.cultureId)
    .all();
  return { packed, promised };
}

/** Old substrate and tools that went round the shelves, from a feeder culture to what is sold. */
export function writeContacts(tx: Db, today: string, personId: string) {
  const byCode = new Map(
    tx
      .select({ id: cultures.id, code: cultures.code })
      .from(cultures)
      .where(inArray(cultures.code, ['DH-002', 'DH-003', 'FC-001', 'CC-001', 'AM-003', 'PP-002']))
      .all()
      .map(({ id, code }) => [code, id]),
  );
  const put = (
    kind: NewContact['kind'],
    from: number | undefined,
    to: number | undefined,
    onDay: string,
    note = '',
  ) => {
    if (from === undefined || to === undefined || from === to) return;
    writeContact(
      tx,
      { kind, fromId: from, toId: to, onDay, note },
      { madeBy: personId, madeAt: noonOf(onDay) },
    );
  };
  const [flies, scorpions, springtails] = ['DH-002', 'CC-001', 'FC-001'].map((code) => byCode.get(code));
  put('seeding', springtails, byCode.get('AM-003'), addDays(today, -40), 'Springtails with their charcoal.');
  put('seeding', springtails, flies, addDays(today, -20), 'Springtails with their charcoal.');
  put('shared tool', flies, byCode.get('DH-003'), addDays(today, -6));
  const { packed, promised } = soldFrom(tx);
  const [latest] = packed;
  if (latest) put('shared tool', scorpions, latest.id, addDays(latest.onDay, -1));
  const next = promised.find(({ id }) => id !== latest?.id);
  if (latest && next) put('shared tool', latest.id, next.id, addDays(today, -1));
}
