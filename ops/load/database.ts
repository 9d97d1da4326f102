import { copyFileSync, existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { sql } from 'drizzle-orm';
import { refreshStale } from '../../server/counts/refresh-all.ts';
import { insertCustomer } from '../../server/customers/queries.ts';
import { migrate } from '../../server/plumbing/migrate.ts';
import { type Db, openDatabase } from '../../server/plumbing/open-database.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { orderHistory, orderLines, orders, people, species } from '../../server/schema/tables.ts';
import { addDays } from '../../shared/days.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { drawPhoto, writeArrivals } from '../demo/arrivals.ts';
import { hashDemoPasswords, writeBusiness, writePlaces, writeStock } from '../demo/business.ts';
import { writeCarriers } from '../demo/carriers.ts';
import { type Chance, makeChance } from '../demo/chance.ts';
import { writeClimate } from '../demo/climate.ts';
import { writeCups } from '../demo/cups.ts';
import { writeFeeders } from '../demo/feeders.ts';
import { writeMoney } from '../demo/money.ts';
import { writeParcels } from '../demo/parcels.ts';
import { writeOrders } from '../demo/write-orders.ts';
import { noonOf } from '../demo/write-story.ts';
import { personName, writeLoadStock } from './stock.ts';

const howManyCultures = 2_000;
const zone = 'Europe/London';
/** Orders that left long ago, of so many customers. */
const oldOrders = { orders: 3_000, customers: 800 };

function writeOldOrders(tx: Db, chance: Chance, today: string) {
  const by = (on: string) => ({ madeBy: 'demo-owner', madeAt: noonOf(on) });
  const kinds = tx.select().from(species).all();
  const ids = Array.from({ length: oldOrders.customers }, (_, i) =>
    insertCustomer(
      tx,
      {
        name: `${chance.pick(['Ada', 'Ben', 'Cleo', 'Dov', 'Eve', 'Finn'])} Example ${i}`,
        email: `buyer${i}@example.org`,
        phone: '',
        street: `${i} Sample Street`,
        postcode: `EX${i % 10} ${i % 9}AB`,
        city: chance.pick(['Exampleton', 'Testbury', 'Mockham']),
        region: '',
        country: 'GB',
        units: 'metric',
        paper: 'A4',
        language: 'en',
        note: '',
        retiredAt: null,
      },
      by(addDays(today, -900)),
    ),
  );
  const first = tx.get<{ n: number }>(sql`SELECT coalesce(max(number), 0) AS n FROM orders`)?.n ?? 0;
  for (let i = 1; i <= oldOrders.orders; i += 1) {
    const on = addDays(today, -900 + Math.floor((i / oldOrders.orders) * 880));
    const { id } = tx
      .insert(orders)
      .values({
        number: first + i,
        customerId: chance.pick(ids),
        state: 'closed',
        currency: 'GBP',
        postageMinor: 795,
        dispatchOn: on,
        sentOn: on,
        note: '',
        version: 1,
        ...by(on),
      })
      .returning({ id: orders.id })
      .get();
    const kind = chance.pick(kinds);
    const { groupAdults, groupJuveniles, groupExtras, priceMinor } = kind;
    const makeUp = { groupAdults, groupJuveniles, groupExtras, priceMinor };
    tx.insert(orderLines)
      .values({ orderId: id, position: 0, speciesId: kind.id, groups: 1, ...makeUp })
      .run();
    for (const state of ['draft', 'closed'])
      tx.insert(orderHistory)
        .values({ orderId: id, state, note: '', ...by(on) })
        .run();
  }
}

function writePeople(tx: Db, now: number) {
  for (const [role, howMany] of [
    ['helper', 64],
    ['owner', 4],
  ] as const)
    for (let i = 0; i < howMany; i += 1) {
      const id = personName(role, i);
      const row = { id, signInName: `${id}@example.org`, name: `${role} ${i}`, role, passwordHash: 'none' };
      tx.insert(people)
        .values({ ...row, active: true, scheme: 'system', madeAt: now })
        .run();
    }
}

async function build(file: string, entries: number, now: number, say: (words: string) => void) {
  const { db, sqlite } = openDatabase(file);
  sqlite.pragma('cache_size = -500000');
  // Nothing is lost when a machine stops here: the file gets its name at the end.
  sqlite.pragma('synchronous = OFF');
  migrate(sqlite, now);
  const today = dayInZone(now, zone);
  const staff = await hashDemoPasswords();
  db.transaction((tx) => {
    writeBusiness(tx, staff, now);
    writePlaces(tx);
    writeStock(tx);
    writePeople(tx, now);
  });
  const written = writeLoadStock(db, sqlite, { cultures: howManyCultures, entries, today }, say);
  await refreshStale(db, {
    today,
    now: () => now,
    onProgress: (done, all) => done % 500 === 0 && say(`${done} of ${all} estimates are worked out`),
  });
  const photo = await drawPhoto(makeChance(3));
  db.transaction((tx) => {
    writeOldOrders(tx, makeChance(4), today);
    writeCups(tx, now);
    writeOrders(tx, today, 'demo-owner');
    writeMoney(tx, today, 'demo-owner');
    writeFeeders(tx);
    writeParcels(tx, makeChance(5), today, now, 'demo-helper');
    writeCarriers(tx, 'GB', now);
    writeArrivals(tx, today, photo);
    writeClimate(tx, makeChance(6), today, { timeZone: zone, personId: 'demo-helper', now });
  });
  sqlite.exec('ANALYZE');
  sqlite.pragma('wal_checkpoint(TRUNCATE)');
  sqlite.close();
  return written;
}

/** The database with about so many entries, made once for every day in the given folder. */
export async function keptDatabase(shelf: string, entries: number, say: (words: string) => void) {
  const now = Date.now();
  const folder = join(shelf, `${entries}-${dayInZone(now, zone)}`);
  const file = join(folder, 'broodbench.db');
  if (existsSync(file)) return file;
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  say(`making a database with about ${entries} entries in ${folder} ...`);
  const building = join(folder, 'building.db');
  for (const end of ['', '-wal', '-shm']) rmSync(building + end, { force: true });
  const began = performance.now();
  const written = await build(building, entries, now, say);
  writeFileSync(join(folder, 'entries'), String(written));
  renameSync(building, file);
  say(`made in ${Math.round((performance.now() - began) / 1000)} s`);
  return file;
}

export type Session = { id: string; role: 'helper' | 'owner'; cookie: string };

/** A copy to work in, with everybody signed in; the cookies are for whoever plays them. */
export async function copyForRun(template: string, folder: string): Promise<Session[]> {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const file = join(folder, 'broodbench.db');
  copyFileSync(template, file);
  const { db, sqlite } = openDatabase(file);
  // One made before a change of the schema is good for this one too.
  migrate(sqlite, Date.now());
  const sessions = makeSessions(db, { now: Date.now }, { secureCookies: false, basePath: '' });
  const staff = db
    .select({ id: people.id, role: people.role })
    .from(people)
    .where(sql`id LIKE 'load-%'`)
    .all();
  const all: Session[] = [];
  for (const { id, role } of staff)
    all.push({ id, role, cookie: (await sessions.begin(id, 'load')).split(';')[0] ?? '' });
  sqlite.pragma('wal_checkpoint(TRUNCATE)');
  sqlite.close();
  return all;
}
