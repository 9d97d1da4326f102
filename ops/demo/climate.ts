import { eq } from 'drizzle-orm';
import { insertReadings } from '../../server/climate/queries-readings.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { places } from '../../server/schema/tables.ts';
import { addDays, toEpochDay } from '../../shared/days.ts';
import type { Chance } from './chance.ts';

const daysBack = 90;
const hours = [7, 13, 19];

/** A heated room in autumn, read by hand three times a day. */
export function writeClimate(tx: Db, chance: Chance, today: string, timeZone: string, personId: string) {
  const rooms = tx.select().from(places).where(eq(places.kind, 'room')).orderBy(places.shelfOrder).all();
  for (const [i, room] of rooms.entries()) {
    const readings = Array.from({ length: daysBack }, (_, back) => addDays(today, back - daysBack)).flatMap(
      (day) =>
        hours.map((hour) => ({
          at: toEpochDay(day) * 86_400_000 + hour * 3_600_000,
          tempC: Math.round((22 - 3 * i + (hour === 13 ? 2 : 0) + chance.whole(-8, 8) / 10) * 10) / 10,
          humidityPct: 55 + 10 * i + chance.whole(-6, 6),
        })),
    );
    const now = toEpochDay(today) * 86_400_000;
    insertReadings(tx, readings, { placeId: room.id, timeZone, now, via: 'demo', madeBy: personId });
  }
}
