import { eq } from 'drizzle-orm';
import { insertReadings } from '../../server/climate/queries-readings.ts';
import { appendEntry } from '../../server/cultures/queries-diary.ts';
import { cultures, orderLines, species } from '../../server/schema/tables.ts';
import { addPlan } from '../../server/splits/queries-plans.ts';
import { saveRecipe } from '../../server/substrate/queries.ts';
import { addDays } from '../../shared/days.ts';
import { makeCounted } from '../support/counted-stock.ts';
import { readyToPack, toPack } from '../support/packing-day.ts';
import { makePlace } from '../support/stock.ts';
import { cast, testNow, testToday } from '../support/test-app.ts';
import { furnishedBench } from '../support/walk.ts';

const ago = (days: number) => addDays(testToday, -days);
const by = { via: 'page', madeBy: cast.helper.id, madeAt: testNow } as const;

/** The bench with something to work out on every page: kin, dryings, a split to mix for, a parcel in winter. */
export async function fullBench() {
  const walk = await furnishedBench();
  const { db } = walk;
  const one = db.select().from(cultures).where(eq(cultures.id, 1)).get();
  if (!one) throw new Error('no culture');
  const other = makeCounted(db, one.speciesId, 97, { foundedOn: '2026-02-03', foundingAnimals: 18 });
  for (const daysAgo of [41, 28, 13])
    appendEntry(db, { ...by, cultureId: one.id, kind: 'water', onDay: ago(daysAgo), waterMl: 50 });
  appendEntry(db, { ...by, cultureId: one.id, kind: 'check', onDay: ago(29), surface: 'dry' });
  appendEntry(db, { ...by, cultureId: other.id, kind: 'feed', onDay: ago(57) });
  const room = makePlace(db, { kind: 'room' });
  insertReadings(db, [{ at: testNow - 60_000, tempC: 23.4, humidityPct: 61 }], {
    placeId: room.id,
    timeZone: 'Europe/Berlin',
    now: testNow,
    via: 'page',
    madeBy: cast.owner.id,
  });
  const home = { speciesId: one.speciesId, enclosureId: one.enclosureId };
  saveRecipe(db, home, [
    { name: 'Base', depthMm: 43, parts: [{ material: 'leaf mould', parts: 3, settling: 0.8 }] },
  ]);
  addPlan(db, {
    cultureId: one.id,
    what: 'split',
    onDay: addDays(testToday, 2),
    enclosureId: one.enclosureId,
    enclosures: 3,
    madeOn: testToday,
    madeBy: cast.owner.id,
    madeAt: testNow,
  });
  db.update(species)
    .set({ homeEnclosureId: one.enclosureId, detectionAlpha: 7, detectionBeta: 12 })
    .where(eq(species.id, one.speciesId))
    .run();
  readyToPack(db, { lowC: (day) => 7 + (day % 3), carrier: { name: 'Night Post' } });
  const { order } = toPack(db);
  db.update(orderLines).set({ groups: 3 }).run();
  const more = [`/parcels/orders/${order.number}`, `/orders/${order.number}`, `/orders/${order.number}/pack`];
  return { ...walk, more };
}
