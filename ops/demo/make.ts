import { refreshStale } from '../../server/counts/refresh-all.ts';
import { migrate } from '../../server/plumbing/migrate.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { drawPhoto, writeArrivals } from './arrivals.ts';
import { hashDemoPasswords, writeBusiness, writePlaces, writeStock } from './business.ts';
import { writeCarriers } from './carriers.ts';
import { makeChance } from './chance.ts';
import { writeClimate } from './climate.ts';
import { writeContacts } from './contacts.ts';
import { writeCups } from './cups.ts';
import { writeDevelopment } from './development.ts';
import { writeFeeders } from './feeders.ts';
import { writeMoney } from './money.ts';
import { writeParcels } from './parcels.ts';
import { writeRound } from './round.ts';
import { writeOrders } from './write-orders.ts';
import { writeStory } from './write-story.ts';

const seed = 20_26;

/** Fills a new database file with the demo. The same seed and day give the same demo. */
export async function makeDemo(file: string, now: number, say: (words: string) => void) {
  const opened = openDatabase(file);
  const { db, sqlite } = opened;
  migrate(sqlite, now);
  const staff = await hashDemoPasswords();
  const today = dayInZone(now, 'Europe/London');
  const count = db.transaction((tx) => {
    writeBusiness(tx, staff, now);
    writePlaces(tx);
    writeStock(tx);
    return writeStory(tx, makeChance(seed), today, { owner: 'demo-owner', helper: 'demo-helper' });
  });
  say(`${count} cultures with a year and a half of diary are written; working out what is in them ...`);
  await refreshStale(db, { today, now: () => now });
  const photo = await drawPhoto(makeChance(seed + 3));
  db.transaction((tx) => {
    writeCups(tx, now);
    writeOrders(tx, today, 'demo-owner');
    writeMoney(tx, today, 'demo-owner');
    writeContacts(tx, today, 'demo-helper');
    writeFeeders(tx);
    writeDevelopment(tx);
    writeParcels(tx, makeChance(seed + 2), today, now, 'demo-helper');
    writeCarriers(tx, 'GB', now);
    writeArrivals(tx, today, photo);
    const from = { timeZone: 'Europe/London', personId: 'demo-helper', now };
    writeClimate(tx, makeChance(seed + 1), today, from);
    writeRound(tx, today, { owner: 'demo-owner', helper: 'demo-helper' });
  });
  sqlite.pragma('wal_checkpoint(TRUNCATE)');
  sqlite.close();
  return count;
}
