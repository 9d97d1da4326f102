import { asc, eq, ne } from 'drizzle-orm';
import { addSensor } from '../../server/climate/queries-places.ts';
import { insertReadings } from '../../server/climate/queries-readings.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { cultures, places, species } from '../../server/schema/tables.ts';
import { addDays, toEpochDay } from '../../shared/days.ts';
import type { Chance } from './chance.ts';

const daysBack = 90;
const hours = [7, 13, 19];
const hourMs = 3_600_000;
const tenth = (value: number) => Math.round(value * 10) / 10;

/** The shelf with the animals that bear warmth least, and how much they bear: a lamp stands over it. */
function warmShelf(tx: Db) {
  const found = tx
    .select({ safeHighC: species.safeHighC, shelfId: places.parentId })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(places, eq(places.id, cultures.placeId))
    .where(ne(cultures.status, 'retired'))
    .orderBy(asc(species.safeHighC), asc(places.shelfOrder))
    .get();
  return found?.shelfId ? { safeHighC: found.safeHighC, shelfId: found.shelfId } : null;
}

/** A sensor on that shelf, every half hour since yesterday: too warm for the last hours. */
function writeWarmShelf(tx: Db, chance: Chance, from: From) {
  const shelf = warmShelf(tx);
  if (!shelf) return;
  const sensorId = addSensor(tx, {
    placeId: shelf.shelfId,
    name: 'Under the lamp',
    // Of no token that anybody has.
    tokenHash: 'de'.repeat(32),
    madeBy: from.personId,
    madeAt: from.now - 2 * 24 * hourMs,
  });
  const readings = Array.from({ length: 72 }, (_, i) => {
    const hoursAgo = (71 - i) / 2;
    const rise = Math.max(0, 5 - hoursAgo) * 1.3;
    return {
      at: from.now - hoursAgo * hourMs - 240_000,
      tempC: tenth(shelf.safeHighC - 4 + rise + chance.whole(-2, 2) / 10),
      humidityPct: 58 - Math.round(rise),
    };
  });
  const { timeZone, now } = from;
  insertReadings(tx, readings, { placeId: shelf.shelfId, timeZone, now, via: 'sensor', sensorId });
}

type From = { timeZone: string; personId: string; now: number };

/** Heated rooms in autumn, read by hand three times a day, and one shelf that has been too warm since this morning. */
export function writeClimate(tx: Db, chance: Chance, today: string, from: From) {
  const rooms = tx.select().from(places).where(eq(places.kind, 'room')).orderBy(places.shelfOrder).all();
  const { timeZone, personId, now } = from;
  for (const [i, room] of rooms.entries()) {
    const readings = Array.from({ length: daysBack + 1 }, (_, back) => addDays(today, back - daysBack))
      .flatMap((day) =>
        hours.map((hour) => ({
          at: toEpochDay(day) * 24 * hourMs + hour * hourMs,
          tempC: tenth(22 - 3 * i + (hour === 13 ? 2 : 0) + chance.whole(-8, 8) / 10),
          humidityPct: 55 + 10 * i + chance.whole(-6, 6),
        })),
      )
      .filter(({ at }) => at < now);
    insertReadings(tx, readings, { placeId: room.id, timeZone, now, via: 'demo', madeBy: personId });
  }
  writeWarmShelf(tx, chance, from);
}
