import { and, asc, desc, eq, inArray, isNull, sql } from 'drizzle-orm';
import { linesOf } from '../orders/queries.ts';
import { allocationsOf } from '../orders/queries-allocations.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { PreparedPhoto } from '../plumbing/prepare-photo.ts';
import {
  arrivalLosses,
  arrivalPhotoFiles,
  arrivalPhotos,
  arrivalReports,
  arrivalWords,
  orders,
  people,
  species,
} from '../schema/tables.ts';

export type SentSpecies = { speciesId: number; scientificName: string; animals: number };

/** What was sent of each species, with the extras; before it is packed, what was ordered. */
export function sentOf(db: Db, orderId: number): SentSpecies[] {
  const packed = new Map<number, number>();
  for (const one of allocationsOf(db, orderId))
    if (one.state === 'packed') packed.set(one.lineId, (packed.get(one.lineId) ?? 0) + one.animals);
  const sent = new Map<number, SentSpecies>();
  for (const line of linesOf(db, orderId)) {
    const { speciesId, scientificName, groupAdults, groupJuveniles, groupExtras } = line;
    const ordered = line.groups * (groupAdults + groupJuveniles + groupExtras);
    const before = sent.get(speciesId)?.animals ?? 0;
    sent.set(speciesId, { speciesId, scientificName, animals: before + (packed.get(line.id) ?? ordered) });
  }
  return [...sent.values()].filter(({ animals }) => animals > 0);
}

export type Loss = { speciesId: number; sent: number; dead: number; missing: number };
export type NewReport = {
  orderId: number;
  formKey: string;
  losses: readonly Loss[];
  note: string;
  photos: readonly PreparedPhoto[];
  now: number;
  /** By which address it came, or who wrote down what was told. */
} & ({ linkId: number } | { writtenBy: string });

/** A customer corrects a report a few times; more is somebody who plays with the address. */
const mostReports = 20;
const mostPhotosOfOrder = 12;

export type Kept = 'kept' | 'there already' | 'enough';

/** Keeps a report, once for each form: the same form sent again changes nothing. */
export function keepReport(tx: Db, given: NewReport): Kept {
  const { orderId, formKey, losses, note, photos, now: madeAt } = given;
  // Whoever writes it down has seen it.
  const from =
    'linkId' in given
      ? { linkId: given.linkId }
      : { writtenBy: given.writtenBy, seenBy: given.writtenBy, seenAt: madeAt };
  const sameForm = and(eq(arrivalReports.orderId, orderId), eq(arrivalReports.formKey, formKey));
  if (tx.select({ id: arrivalReports.id }).from(arrivalReports).where(sameForm).get()) return 'there already';
  const before = reportsOf(tx, orderId);
  const photosBefore = before.reduce((sum, one) => sum + one.photos.length, 0);
  if (before.length >= mostReports || photosBefore + photos.length > mostPhotosOfOrder) return 'enough';
  const allWell = losses.length === 0;
  const { id } = tx
    .insert(arrivalReports)
    .values({ orderId, allWell, formKey, madeAt, ...from })
    .returning({ id: arrivalReports.id })
    .get();
  for (const loss of losses)
    tx.insert(arrivalLosses)
      .values({ reportId: id, ...loss })
      .run();
  if (note !== '') tx.insert(arrivalWords).values({ reportId: id, note }).run();
  // The same picture chosen twice is one.
  for (const photo of new Map(photos.map((one) => [one.sha256, one])).values()) keepPhoto(tx, id, photo);
  return 'kept';
}

function keepPhoto(tx: Db, reportId: number, { bytes, widthPx, heightPx, sha256 }: PreparedPhoto) {
  const { id } = tx
    .insert(arrivalPhotos)
    .values({ reportId, widthPx, heightPx, sha256 })
    .returning({ id: arrivalPhotos.id })
    .get();
  tx.insert(arrivalPhotoFiles).values({ photoId: id, bytes }).run();
}

export type Report = {
  id: number;
  allWell: boolean;
  madeAt: number;
  /** Who wrote down what was told; null where the customer did. */
  writtenBy: string | null;
  seenAt: number | null;
  note: string;
  losses: (Loss & { scientificName: string })[];
  photos: { id: number; widthPx: number; heightPx: number }[];
};

/** All that was said of an order's arrival, the latest first; that one counts. */
export function reportsOf(db: Db, orderId: number): Report[] {
  const rows = db
    .select({
      id: arrivalReports.id,
      allWell: arrivalReports.allWell,
      madeAt: arrivalReports.madeAt,
      seenAt: arrivalReports.seenAt,
      writtenBy: people.name,
      note: sql<string>`coalesce(${arrivalWords.note}, '')`,
    })
    .from(arrivalReports)
    .leftJoin(arrivalWords, eq(arrivalWords.reportId, arrivalReports.id))
    .leftJoin(people, eq(people.id, arrivalReports.writtenBy))
    .where(eq(arrivalReports.orderId, orderId))
    .orderBy(desc(arrivalReports.id))
    .all();
  const ids = rows.map(({ id }) => id);
  const losses = db
    .select({
      reportId: arrivalLosses.reportId,
      speciesId: arrivalLosses.speciesId,
      sent: arrivalLosses.sent,
      dead: arrivalLosses.dead,
      missing: arrivalLosses.missing,
      scientificName: species.scientificName,
    })
    .from(arrivalLosses)
    .innerJoin(species, eq(species.id, arrivalLosses.speciesId))
    .where(inArray(arrivalLosses.reportId, ids))
    .orderBy(asc(species.scientificName))
    .all();
  const photos = db
    .select({
      id: arrivalPhotos.id,
      reportId: arrivalPhotos.reportId,
      widthPx: arrivalPhotos.widthPx,
      heightPx: arrivalPhotos.heightPx,
    })
    .from(arrivalPhotos)
    .where(inArray(arrivalPhotos.reportId, ids))
    .orderBy(asc(arrivalPhotos.id))
    .all();
  const own = <T extends { reportId: number }>(all: T[], id: number) =>
    all.filter(({ reportId }) => reportId === id);
  return rows.map((row) => ({ ...row, losses: own(losses, row.id), photos: own(photos, row.id) }));
}

/** The picture of an order, or nothing if it is another order's. */
export const photoBytesOf = (db: Db, orderId: number, photoId: number): Buffer | undefined =>
  db
    .select({ bytes: arrivalPhotoFiles.bytes })
    .from(arrivalPhotos)
    .innerJoin(arrivalReports, eq(arrivalReports.id, arrivalPhotos.reportId))
    .innerJoin(arrivalPhotoFiles, eq(arrivalPhotoFiles.photoId, arrivalPhotos.id))
    .where(and(eq(arrivalPhotos.id, photoId), eq(arrivalReports.orderId, orderId)))
    .get()?.bytes;

/** Somebody has looked at all that was said so far; returns whether there was anything new. */
export const markSeen = (tx: Db, orderId: number, by: { personId: string; now: number }): boolean =>
  tx
    .update(arrivalReports)
    .set({ seenAt: by.now, seenBy: by.personId })
    .where(and(eq(arrivalReports.orderId, orderId), isNull(arrivalReports.seenAt)))
    .run().changes > 0;

/** Numbers of orders with a loss that nobody has looked at yet. */
export const ordersWithNewLosses = (db: Db): number[] =>
  db
    .selectDistinct({ number: orders.number })
    .from(arrivalReports)
    .innerJoin(orders, eq(orders.id, arrivalReports.orderId))
    .where(and(isNull(arrivalReports.seenAt), sql`${arrivalReports.allWell} = 0`))
    .orderBy(asc(orders.number))
    .limit(50)
    .all()
    .map(({ number }) => number);
