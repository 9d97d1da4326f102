import { and, desc, eq, gte, inArray, or, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/sqlite-core';
import { notFound, Refusal } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  cultures,
  diary,
  estimatePoints,
  orders,
  people,
  places,
  populationStates,
  standingDiary,
} from '../schema/tables.ts';

export type Entry = typeof diary.$inferSelect;
type Insert = typeof diary.$inferInsert;
/** What a caller says of a new entry; everything else is left empty. */
export type NewEntry = Omit<Insert, 'id' | 'rootId' | 'replacesId' | 'withdrawn' | 'note'> & {
  note?: string;
};

/** Kinds that change how many animals there are, or what is known of it. */
export const populationKinds = ['count', 'harvest', 'addition', 'split', 'die-off'] as const;
const changesEstimate = (kind: string) => (populationKinds as readonly string[]).includes(kind);

/** Where an entry stands among those of its day: a correction keeps the place of what it corrects. */
export const positionOf = (entry: Pick<Entry, 'id' | 'rootId'>) => entry.rootId ?? entry.id;

/** States and points from that place on were worked out without this entry: they go. */
export function forgetFrom(tx: Db, cultureId: number, onDay: string, position: number) {
  for (const table of [populationStates, estimatePoints]) {
    tx.delete(table)
      .where(
        and(
          eq(table.cultureId, cultureId),
          or(sql`${table.onDay} > ${onDay}`, and(eq(table.onDay, onDay), gte(table.position, position))),
        ),
      )
      .run();
  }
}

/** What a move, a quarantine or a retirement means for the culture's row, which shows where its diary has led. */
export function applyStanding(tx: Db, cultureId: number) {
  const kinds = ['move', 'quarantine', 'release', 'retirement'] as const;
  const latest = tx
    .select({ kind: standingDiary.kind, placeId: standingDiary.placeId })
    .from(standingDiary)
    .where(and(eq(standingDiary.cultureId, cultureId), inArray(standingDiary.kind, [...kinds])))
    .orderBy(desc(standingDiary.onDay), desc(sql`coalesce(${standingDiary.rootId}, ${standingDiary.id})`))
    .all();
  const standing = latest.find((e) => e.kind !== 'move')?.kind;
  const status = standing === 'quarantine' ? 'quarantine' : standing === 'retirement' ? 'retired' : 'active';
  const moved = latest.find((e) => e.kind === 'move');
  tx.update(cultures)
    .set(moved ? { status, placeId: moved.placeId } : { status })
    .where(eq(cultures.id, cultureId))
    .run();
}

function insertEntry(tx: Db, values: Insert): number {
  const { id } = tx.insert(diary).values(values).returning({ id: diary.id }).get();
  return id;
}

function afterWriting(tx: Db, entry: Pick<Entry, 'cultureId' | 'onDay' | 'kind'>, position: number) {
  if (changesEstimate(entry.kind)) forgetFrom(tx, entry.cultureId, entry.onDay, position);
  if (['move', 'quarantine', 'release', 'retirement'].includes(entry.kind))
    applyStanding(tx, entry.cultureId);
}

/**
 * Appends a fact to a culture's diary and returns its id. The caller refreshes the culture's estimate once it has
 * appended all that belongs together.
 */
export function appendEntry(tx: Db, entry: NewEntry): number {
  const id = insertEntry(tx, { ...entry, note: entry.note ?? '', withdrawn: false });
  afterWriting(tx, entry, id);
  return id;
}

/** Whether an entry still stands: nothing has corrected or withdrawn it. */
export function standingEntry(db: Db, id: number): Entry | undefined {
  return db.select().from(standingDiary).where(eq(standingDiary.id, id)).get();
}

function toReplace(tx: Db, id: number): Entry {
  const old = standingEntry(tx, id);
  if (old) return old;
  if (!tx.select({ id: diary.id }).from(diary).where(eq(diary.id, id)).get()) throw notFound('entry');
  throw new Refusal(
    409,
    'Already corrected',
    'Somebody has corrected or taken out this entry meanwhile. Look at the diary again.',
  );
}

type By = { madeBy: string | null; madeAt: number; via?: Entry['via'] };

/** Puts another entry in the place of one that was wrong; the wrong one stays readable. */
export function correctEntry(tx: Db, id: number, entry: Omit<NewEntry, 'cultureId' | 'kind'>): number {
  const old = toReplace(tx, id);
  const position = positionOf(old);
  const values = {
    ...entry,
    cultureId: old.cultureId,
    kind: old.kind,
    note: entry.note ?? '',
    withdrawn: false,
  };
  const newId = insertEntry(tx, { ...values, rootId: position, replacesId: id });
  afterWriting(tx, old, position);
  afterWriting(tx, { ...old, onDay: entry.onDay }, position);
  return newId;
}

/** Takes an entry out (an undo): a later entry says so, nothing is deleted. */
export function withdrawEntry(tx: Db, id: number, by: By): number {
  const { id: _id, rootId: _root, replacesId: _replaces, ...old } = toReplace(tx, id);
  const position = _root ?? _id;
  const newId = insertEntry(tx, {
    ...old,
    withdrawn: true,
    rootId: position,
    replacesId: id,
    via: by.via ?? 'page',
    importId: null,
    saidBy: null,
    madeBy: by.madeBy,
    madeAt: by.madeAt,
  });
  afterWriting(tx, old, position);
  return newId;
}

/** An entry with the names of what it points at. */
export type DiaryLine = Entry & {
  by: string | null;
  replacedBy: number | null;
  otherCode: string | null;
  orderNumber: number | null;
  placeName: string | null;
};

function withNames(db: Db) {
  const later = alias(diary, 'later');
  const other = alias(cultures, 'other');
  return db
    .select({
      entry: diary,
      by: sql<string | null>`coalesce(${diary.saidBy}, ${people.name})`,
      replacedBy: later.id,
      otherCode: other.code,
      orderNumber: orders.number,
      placeName: places.fullName,
    })
    .from(diary)
    .leftJoin(people, eq(people.id, diary.madeBy))
    .leftJoin(later, eq(later.replacesId, diary.id))
    .leftJoin(other, eq(other.id, diary.otherCultureId))
    .leftJoin(orders, eq(orders.id, diary.orderId))
    .leftJoin(places, eq(places.id, diary.placeId));
}

const asLine = ({ entry, ...names }: { entry: Entry } & Omit<DiaryLine, keyof Entry>): DiaryLine => ({
  ...entry,
  ...names,
});

/** A culture's whole diary, newest first, with what was corrected; paged. */
export function readDiary(db: Db, cultureId: number, page: { limit: number; offset: number }): DiaryLine[] {
  return withNames(db)
    .where(eq(diary.cultureId, cultureId))
    .orderBy(desc(diary.onDay), desc(sql`coalesce(${diary.rootId}, ${diary.id})`), desc(diary.id))
    .limit(page.limit)
    .offset(page.offset)
    .all()
    .map(asLine);
}

export function readEntry(db: Db, cultureId: number, id: number): DiaryLine | undefined {
  const row = withNames(db)
    .where(and(eq(diary.cultureId, cultureId), eq(diary.id, id)))
    .get();
  return row && asLine(row);
}

export function diaryLength(db: Db, cultureId: number): number {
  return (
    db.select({ n: sql<number>`count(*)` }).from(diary).where(eq(diary.cultureId, cultureId)).get()?.n ?? 0
  );
}

export type PopulationEntry = Entry & { position: number };

type After = { onDay: string; position: number };
const eventPosition = sql<number>`coalesce(${standingDiary.rootId}, ${standingDiary.id})`;

const eventsAfter = (cultureId: number, after?: After) =>
  and(
    eq(standingDiary.cultureId, cultureId),
    inArray(standingDiary.kind, [...populationKinds]),
    // for the index: what follows is true of no earlier day
    after && gte(standingDiary.onDay, after.onDay),
    after &&
      or(
        sql`${standingDiary.onDay} > ${after.onDay}`,
        sql`${standingDiary.onDay} = ${after.onDay} AND ${eventPosition} > ${after.position}`,
      ),
  );

/** The standing events of a culture that its estimate is made from, in order, after a place in the diary. */
export function populationEntries(db: Db, cultureId: number, after?: After): PopulationEntry[] {
  return db
    .select()
    .from(standingDiary)
    .where(eventsAfter(cultureId, after))
    .orderBy(standingDiary.onDay, eventPosition)
    .all()
    .map((e) => ({ ...e, position: positionOf(e) }));
}

/** The same with no more than an estimate is made from: it is asked for with every tap. */
export function populationEvents(db: Db, cultureId: number, after?: After) {
  const { kind, onDay, animals, countInput, survivalMedian, survivalSdLog } = standingDiary;
  return db
    .select({ kind, onDay, animals, countInput, survivalMedian, survivalSdLog, position: eventPosition })
    .from(standingDiary)
    .where(eventsAfter(cultureId, after))
    .orderBy(onDay, eventPosition)
    .all();
}
export type PopulationNumbers = ReturnType<typeof populationEvents>[number];
