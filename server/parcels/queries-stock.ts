import { and, desc, eq, gte, isNull, sql } from 'drizzle-orm';
import type { BoxValues } from '../../shared/parcels/box-form.ts';
import { usualFilms } from '../../shared/parcels/handbook.ts';
import type { PackValues } from '../../shared/parcels/pack-form.ts';
import type { ParcelPack } from '../../shared/parcels/parcel-form.ts';
import type { BoxOption, PackOption } from '../../shared/parcels/parcel-options-form.ts';
import type { Db } from '../plumbing/open-database.ts';
import { boxes, boxLogs, packs } from '../schema/tables.ts';

export type Box = typeof boxes.$inferSelect;
export type Pack = typeof packs.$inferSelect;
export type BoxLog = typeof boxLogs.$inferSelect;

const byNumber = new Intl.Collator('en', { numeric: true });
type Named = { name: string; retiredAt: number | null };
const inOrder = (a: Named, b: Named) =>
  Number(a.retiredAt !== null) - Number(b.retiredAt !== null) || byNumber.compare(a.name, b.name);

/** All boxes by name, those no longer used last. */
export const listBoxes = (db: Db): Box[] => db.select().from(boxes).all().sort(inOrder);
export const listPacks = (db: Db): Pack[] => db.select().from(packs).all().sort(inOrder);

export const readBox = (db: Db, id: number): Box | undefined =>
  db.select().from(boxes).where(eq(boxes.id, id)).get();
export const readPack = (db: Db, id: number): Pack | undefined =>
  db.select().from(packs).where(eq(packs.id, id)).get();
export const boxNamed = (db: Db, name: string): Box | undefined =>
  db.select().from(boxes).where(eq(boxes.name, name)).get();
export const packNamed = (db: Db, name: string): Pack | undefined =>
  db.select().from(packs).where(eq(packs.name, name)).get();

export const insertBox = (tx: Db, values: BoxValues, madeAt: number): number =>
  tx
    .insert(boxes)
    .values({ ...values, madeAt })
    .returning({ id: boxes.id })
    .get().id;
export const insertPack = (tx: Db, values: PackValues, madeAt: number): number =>
  tx
    .insert(packs)
    .values({ ...values, madeAt })
    .returning({ id: packs.id })
    .get().id;

export function updateBox(tx: Db, id: number, values: Partial<BoxValues>) {
  tx.update(boxes).set(values).where(eq(boxes.id, id)).run();
}
export function updatePack(tx: Db, id: number, values: Partial<PackValues>) {
  tx.update(packs).set(values).where(eq(packs.id, id)).run();
}
export function setBoxRetired(tx: Db, id: number, retiredAt: number | null) {
  tx.update(boxes).set({ retiredAt }).where(eq(boxes.id, id)).run();
}
export function setPackRetired(tx: Db, id: number, retiredAt: number | null) {
  tx.update(packs).set({ retiredAt }).where(eq(packs.id, id)).run();
}

export function insertBoxLog(tx: Db, log: Omit<BoxLog, 'id'>): number {
  return tx.insert(boxLogs).values(log).returning({ id: boxLogs.id }).get().id;
}
export const readBoxLog = (db: Db, boxId: number, id: number): BoxLog | undefined =>
  db
    .select()
    .from(boxLogs)
    .where(and(eq(boxLogs.id, id), eq(boxLogs.boxId, boxId)))
    .get();

/** The logs of a box without their readings, newest first. */
export function logsOfBox(db: Db, boxId: number) {
  const columns = {
    id: boxLogs.id,
    madeAt: boxLogs.madeAt,
    conductanceWPerK: boxLogs.conductanceWPerK,
    lowerWPerK: boxLogs.lowerWPerK,
    upperWPerK: boxLogs.upperWPerK,
  };
  return db
    .select(columns)
    .from(boxLogs)
    .where(eq(boxLogs.boxId, boxId))
    .orderBy(desc(boxLogs.id))
    .limit(20)
    .all();
}

/** What goes into a parcel: a box, and so many of one pack, or none. */
export interface Packed {
  boxId: number;
  packId: number | null;
  packs: number;
}

/**
 * Takes a box and its packs out of the stock, in the transaction of the packing. What is not counted stays so. Returns the
 * names of what there is too little of; then nothing was taken and the caller decides.
 */
export function takeFromStock(tx: Db, { boxId, packId, packs: count }: Packed): string[] {
  const box = readBox(tx, boxId);
  const pack = packId === null ? undefined : readPack(tx, packId);
  const short: string[] = [];
  if (box?.numberLeft === 0) short.push(box.name);
  if (pack && pack.numberLeft !== null && pack.numberLeft < count) short.push(pack.name);
  if (short.length > 0) return short;
  tx.update(boxes)
    .set({ numberLeft: sql`${boxes.numberLeft} - 1` })
    .where(and(eq(boxes.id, boxId), gte(boxes.numberLeft, 1)))
    .run();
  if (packId !== null && count > 0)
    tx.update(packs)
      .set({ numberLeft: sql`${packs.numberLeft} - ${count}` })
      .where(and(eq(packs.id, packId), gte(packs.numberLeft, count)))
      .run();
  return [];
}

/** Puts them back, when a parcel is unpacked again. */
export function putBackIntoStock(tx: Db, { boxId, packId, packs: count }: Packed): void {
  tx.update(boxes)
    .set({ numberLeft: sql`${boxes.numberLeft} + 1` })
    .where(eq(boxes.id, boxId))
    .run();
  if (packId !== null)
    tx.update(packs)
      .set({ numberLeft: sql`${packs.numberLeft} + ${count}` })
      .where(eq(packs.id, packId))
      .run();
}

const insideOf = ({ lengthMm, widthMm, heightMm }: Box): [number, number, number] => [
  lengthMm,
  widthMm,
  heightMm,
];

/** A box as the calculation takes it: measured, or by its wall. */
export function boxOptionOf(box: Box): BoxOption {
  const { name, priceMinor: price, numberLeft: left, wallMm, conductivityWPerMK, conductanceWPerK } = box;
  const stock = { name, price, left, insideMm: insideOf(box) };
  if (conductanceWPerK !== null) return { ...stock, conductanceWPerK };
  return { ...stock, wallMm, conductivityWPerMK, filmWPerM2K: { ...usualFilms } };
}

function heatOf(pack: Pack): ParcelPack {
  if (pack.kind === 'heat')
    return {
      kind: 'heat',
      watts: pack.watts ?? 0,
      hours: pack.hours ?? 0,
      warmUpHours: pack.warmUpHours ?? 0,
    };
  return {
    kind: 'melting',
    massKg: pack.massG / 1_000,
    meltingC: pack.meltingC ?? 0,
    latentJPerKg: pack.latentJPerKg ?? 0,
    heatCapacityJPerKgK: pack.heatCapacityJPerKgK ?? 0,
    startTempC: pack.startTempC ?? 0,
  };
}

/** A pack as the calculation takes it. */
function packOptionOf(pack: Pack): PackOption {
  const { name, priceMinor: price, numberLeft: left, smallestBoxL, mostInBox: most } = pack;
  return { ...heatOf(pack), name, price, left, smallestBoxL, most };
}

/** Boxes and packs that are promised to parcels: by their ids. */
export interface PromisedStock {
  boxes: ReadonlyMap<number, number>;
  packs: ReadonlyMap<number, number>;
}

const nothingPromised: PromisedStock = { boxes: new Map(), packs: new Map() };

/** Boxes and packs in use, as `parcel-options` takes them, less what is promised. */
export function parcelStock(db: Db, promised = nothingPromised): { boxes: BoxOption[]; packs: PackOption[] } {
  const free = <T extends { id: number; numberLeft: number | null }>(
    one: T,
    of: ReadonlyMap<number, number>,
  ) =>
    one.numberLeft === null
      ? one
      : { ...one, numberLeft: Math.max(0, one.numberLeft - (of.get(one.id) ?? 0)) };
  const open = {
    boxes: db.select().from(boxes).where(isNull(boxes.retiredAt)).all().sort(inOrder),
    packs: db.select().from(packs).where(isNull(packs.retiredAt)).all().sort(inOrder),
  };
  return {
    boxes: open.boxes.map((box) => boxOptionOf(free(box, promised.boxes))),
    packs: open.packs.map((pack) => packOptionOf(free(pack, promised.packs))),
  };
}
