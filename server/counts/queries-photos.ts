import { and, asc, eq, gt, inArray, isNotNull, isNull, lt } from 'drizzle-orm';
import { readTaps, type Tap } from '../../shared/counts/taps.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { PreparedPhoto } from '../plumbing/prepare-photo.ts';
import { countPhotoFiles, countPhotos, cultures, diary } from '../schema/tables.ts';

export type CountPhoto = typeof countPhotos.$inferSelect;

/** Photos that one person has sent and not counted on yet; the oldest make room. */
const mostOpen = 20;

export function insertPhoto(
  tx: Db,
  cultureId: number,
  { bytes, widthPx, heightPx, sha256 }: PreparedPhoto,
  by: { personId: string; now: number },
): number {
  const open = tx
    .select({ id: countPhotos.id })
    .from(countPhotos)
    .where(and(eq(countPhotos.madeBy, by.personId), isNull(countPhotos.diaryId)))
    .orderBy(asc(countPhotos.madeAt), asc(countPhotos.id))
    .all();
  const tooMany = open.slice(0, Math.max(0, open.length - mostOpen + 1)).map(({ id }) => id);
  if (tooMany.length > 0) tx.delete(countPhotos).where(inArray(countPhotos.id, tooMany)).run();
  const values = { cultureId, widthPx, heightPx, sha256, taps: '[]', madeBy: by.personId, madeAt: by.now };
  const { id } = tx.insert(countPhotos).values(values).returning({ id: countPhotos.id }).get();
  tx.insert(countPhotoFiles).values({ photoId: id, bytes }).run();
  return id;
}

export const readPhoto = (db: Db, id: number): CountPhoto | undefined =>
  db.select().from(countPhotos).where(eq(countPhotos.id, id)).get();

export const photoBytes = (db: Db, id: number): Buffer | undefined =>
  db
    .select({ bytes: countPhotoFiles.bytes })
    .from(countPhotoFiles)
    .where(eq(countPhotoFiles.photoId, id))
    .get()?.bytes;

/** Puts a photo and its taps to the count it was made for; false when it belongs to another one already. */
export function keepPhoto(
  tx: Db,
  { id, cultureId, diaryId, taps }: { id: number; cultureId: number; diaryId: number; taps: readonly Tap[] },
): boolean {
  return (
    tx
      .update(countPhotos)
      .set({ diaryId, taps: JSON.stringify(taps) })
      .where(and(eq(countPhotos.id, id), eq(countPhotos.cultureId, cultureId), isNull(countPhotos.diaryId)))
      .run().changes === 1
  );
}

export type KeptPhoto = { id: number; widthPx: number; heightPx: number; taps: Tap[] };

/** The photo that an entry was counted on, by the entry's place in the diary. */
export function photoOf(db: Db, position: number): KeptPhoto | null {
  const photo = db.select().from(countPhotos).where(eq(countPhotos.diaryId, position)).get();
  if (!photo) return null;
  const { id, widthPx, heightPx } = photo;
  return { id, widthPx, heightPx, taps: readTaps(photo.taps) };
}

/** Places in a culture's diary that have a photo. */
export function photographed(db: Db, cultureId: number): Set<number> {
  const rows = db
    .select({ diaryId: countPhotos.diaryId })
    .from(countPhotos)
    .where(and(eq(countPhotos.cultureId, cultureId), isNotNull(countPhotos.diaryId)))
    .all();
  return new Set(rows.flatMap(({ diaryId }) => diaryId ?? []));
}

/** Photos that nobody counted on in a week go; returns how many. */
export function forgetOpenPhotos(db: Db, before: number): number {
  return db
    .delete(countPhotos)
    .where(and(isNull(countPhotos.diaryId), lt(countPhotos.madeAt, before)))
    .run().changes;
}

/** The next kept photo after an id, with its bytes and what it is of: for taking all of them out one by one. */
export function nextPhoto(db: Db, after: number) {
  return db
    .select({
      id: countPhotos.id,
      code: cultures.code,
      onDay: diary.onDay,
      madeAt: countPhotos.madeAt,
      bytes: countPhotoFiles.bytes,
    })
    .from(countPhotos)
    .innerJoin(countPhotoFiles, eq(countPhotoFiles.photoId, countPhotos.id))
    .innerJoin(cultures, eq(cultures.id, countPhotos.cultureId))
    .innerJoin(diary, eq(diary.id, countPhotos.diaryId))
    .where(gt(countPhotos.id, after))
    .orderBy(asc(countPhotos.id))
    .limit(1)
    .get();
}
