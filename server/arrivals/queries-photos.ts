import { asc, eq, gt } from 'drizzle-orm';
import type { Db } from '../plumbing/open-database.ts';
import { arrivalPhotoFiles, arrivalPhotos, arrivalReports, orders } from '../schema/tables.ts';

/** The next picture of an arrival after that id, with what its file is named by; undefined after the last. */
export const nextArrivalPhoto = (db: Db, after: number) =>
  db
    .select({
      id: arrivalPhotos.id,
      orderNumber: orders.number,
      madeAt: arrivalReports.madeAt,
      bytes: arrivalPhotoFiles.bytes,
    })
    .from(arrivalPhotos)
    .innerJoin(arrivalPhotoFiles, eq(arrivalPhotoFiles.photoId, arrivalPhotos.id))
    .innerJoin(arrivalReports, eq(arrivalReports.id, arrivalPhotos.reportId))
    .innerJoin(orders, eq(orders.id, arrivalReports.orderId))
    .where(gt(arrivalPhotos.id, after))
    .orderBy(asc(arrivalPhotos.id))
    .limit(1)
    .get();
