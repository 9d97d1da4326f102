import { eq } from 'drizzle-orm';
import { drizzle } from 'drizzle-orm/better-sqlite3';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { keptFacts } from '../../server/checks/kept-facts.ts';
import { addPutOff, endPutOff } from '../../server/checks/queries-put-offs.ts';
import { todaysRound } from '../../server/checks/todays-round.ts';
import { insertReadings } from '../../server/climate/queries-readings.ts';
import { waterDueByCulture } from '../../server/climate/queries-water.ts';
import { refreshEstimate } from '../../server/counts/queries-estimate.ts';
import {
  appendEntry,
  correctEntry,
  type NewEntry,
  withdrawEntry,
} from '../../server/cultures/queries-diary.ts';
import { saveStages, stagesByCulture } from '../../server/development/queries.ts';
import { dropFeeder, saveFeeder } from '../../server/feeders/queries.ts';
import { startsThisWeek } from '../../server/feeders/queries-plan.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import * as tables from '../../server/schema/tables.ts';
import {
  allocations,
  cultures,
  diary,
  imports,
  places,
  species,
  standingDiary,
} from '../../server/schema/tables.ts';
import { readBusiness } from '../../server/settings/queries.ts';
import { askCounts, takeCountsBack } from '../../server/surplus/queries-round-counts.ts';
import { addDays } from '../../shared/days.ts';
import { usualFeeder } from '../../shared/feeders/page-form.ts';
import { makeLine, makeOrder } from '../support/orders.ts';
import { makeCulture, makeEnclosure, makeEstimate, makePlace, makeSpecies } from '../support/stock.ts';
import { cast, type TestApp, testApp, testNow, testToday } from '../support/test-app.ts';

type Bench = TestApp & {
  today: string;
  ids: number[];
  placeIds: number[];
  kinds: { sold: number; feeder: number };
  lineId: number;
};

async function furnished(): Promise<Bench> {
  const app = await testApp();
  const { db } = app;
  const sold = makeSpecies(db).id;
  const feeder = makeSpecies(db, { sellable: false, checkEveryDays: 2 }).id;
  const room = makePlace(db, { kind: 'room', name: 'Room' });
  const shelf = makePlace(db, { parentId: room.id, name: 'Shelf' });
  const position = makePlace(db, { parentId: shelf.id, kind: 'position', name: '1' });
  const placeIds = [room.id, shelf.id, position.id];
  const enclosureId = makeEnclosure(db).id;
  const ids = [sold, sold, feeder, feeder].map(
    (speciesId, i) =>
      makeCulture(db, { speciesId, enclosureId, placeId: placeIds[i % 3] ?? null, foundedOn: '2026-10-01' })
        .id,
  );
  for (const cultureId of ids)
    for (const entry of [seen[1], seen[3], seen[6]])
      if (entry) appendEntry(db, { ...entry, ...by, cultureId, onDay: '2026-11-18' });
  saveStages(db, sold, [{ ...times, speciesId: sold, stage: 'hatch' }]);
  const lineId = makeLine(db, makeOrder(db).id, sold).id;
  return { ...app, today: testToday, ids, placeIds, kinds: { sold, feeder }, lineId };
}

const at = <T>(list: readonly T[], n: number): T => {
  const found = list[n % list.length];
  if (found === undefined) throw new Error('an empty list');
  return found;
};

const seen: Omit<NewEntry, 'cultureId' | 'onDay' | 'via' | 'madeAt'>[] = [
  { kind: 'check' },
  { kind: 'check', surface: 'dry' },
  { kind: 'check', surface: 'wet', feedersLeft: 'none' },
  { kind: 'check', eggsSeen: true },
  { kind: 'check', youngSeen: true, substrate: 'mixed' },
  { kind: 'check', lookedFor: 'no-young', feedersLeft: 'plenty' },
  { kind: 'water', waterMl: 40 },
  { kind: 'feed', food: 'leaves' },
  { kind: 'fruit-in' },
  { kind: 'fruit-out' },
  { kind: 'mites' },
  { kind: 'quarantine' },
  { kind: 'release' },
  { kind: 'retirement' },
];
const by = { via: 'page', madeBy: cast.helper.id, madeAt: testNow } as const;
const ended = { undoneBy: cast.helper.id, undoneAt: testNow };
const times = { coolC: 18, coolDays: 19, warmC: 25, warmDays: 8.5, source: 'own notes' };

type Done = (bench: Bench, n: number, daysAgo: number) => void;

/** What happens on a bench, each by the means by which it happens there. */
const deeds: Record<string, Done> = {
  entry: ({ db, ids, today }, n, daysAgo) => {
    const cultureId = at(ids, n);
    appendEntry(db, { ...at(seen, n), ...by, cultureId, onDay: addDays(today, -daysAgo) });
    if (n % 9 === 0) refreshEstimate(db, cultureId, today, testNow);
  },
  move: ({ db, ids, placeIds, today }, n, daysAgo) => {
    const onDay = addDays(today, -daysAgo);
    appendEntry(db, { ...by, kind: 'move', cultureId: at(ids, n), placeId: at(placeIds, n >> 2), onDay });
  },
  correction: ({ db, today }, n, daysAgo) => {
    const standing = db.select().from(standingDiary).all();
    if (standing.length === 0) return;
    const { id, note, surface } = at(standing, n);
    if (n % 2 === 0) withdrawEntry(db, id, by);
    else
      correctEntry(db, id, {
        ...by,
        note,
        surface,
        waterMl: 10,
        onDay: addDays(today, -daysAgo),
        placeId: 1,
      });
  },
  'put off': ({ db, ids, today }, n, daysAgo) => {
    const what = at(['check', 'water', 'feed', 'count'] as const, n);
    const untilOn = addDays(today, daysAgo);
    const id = addPutOff(db, {
      cultureId: at(ids, n),
      what,
      untilOn,
      reason: 'moulting',
      ...ended,
      madeBy: null,
      madeAt: 1,
    });
    if (n % 3 === 0) endPutOff(db, id, ended);
  },
  reading: ({ db, placeIds }, n, daysAgo) => {
    const reading = { at: testNow - daysAgo * 86_400_000, tempC: 15 + (n % 12), humidityPct: 40 + (n % 50) };
    const from = { timeZone: 'Europe/Berlin', now: testNow, via: 'page', madeBy: null } as const;
    insertReadings(db, [reading], { ...from, placeId: at(placeIds, n) });
  },
  'count asked': ({ db, ids, today }, n) => {
    const wanted = [{ cultureId: at(ids, n), method: 'full' as const, minutes: 30, gain: 2 }];
    const made = askCounts(db, wanted, { onDay: today, madeBy: cast.owner.id, madeAt: testNow });
    if (n % 3 === 0) takeCountsBack(db, made, ended);
  },
  species: ({ db, kinds }, n) => {
    const id = n % 2 === 0 ? kinds.sold : kinds.feeder;
    const set = { checkEveryDays: 1 + (n % 9), feedEveryDays: 1 + (n % 5), substrateMonths: n % 4 || null };
    db.update(species)
      .set({ ...set, sellable: n % 3 > 0 })
      .where(eq(species.id, id))
      .run();
    saveStages(db, id, n % 5 < 3 ? [{ ...times, speciesId: id, stage: n % 2 ? 'adult' : 'hatch' }] : []);
  },
  feeder: ({ db, kinds: { sold, feeder } }, n) => {
    if (n % 4 === 0) dropFeeder(db, feeder);
    else
      saveFeeder(
        db,
        { ...usualFeeder.fly, speciesId: feeder, leadDays: 5 + (n % 9) },
        new Map([[sold, n % 40]]),
      );
  },
  place: ({ db, placeIds }, n) => {
    const fullName = `Place ${n % 7}`;
    db.update(places)
      .set({ fullName, shelfOrder: `s${n % 5}` })
      .where(eq(places.id, at(placeIds, n)))
      .run();
  },
  estimate: ({ db, ids, today }, n) => {
    makeEstimate(db, at(ids, n), {
      asOf: today,
      lower: n % 90,
      upper: 90 + n,
      fullnessMedian: (n % 10) / 10,
    });
  },
  promise: ({ db, ids, lineId }, n) => {
    const promised = {
      orderLineId: lineId,
      cultureId: at(ids, n),
      groups: 1,
      animals: 14,
      state: 'reserved',
      overrideReason: 'agreed with the owner',
    } as const;
    const { id } = db
      .insert(allocations)
      .values({ ...promised, madeAt: testNow })
      .returning()
      .get();
    if (n % 2 === 0) db.update(allocations).set({ state: 'released' }).where(eq(allocations.id, id)).run();
  },
  'undone import': ({ db, ids, today }, n, daysAgo) => {
    const file = {
      kind: 'diary',
      fileName: 'old.csv',
      state: 'undoing',
      mapping: '{}',
      leftOut: '[]',
    } as const;
    const counts = { broughtIn: 1, alreadyThere: 0, madeAt: testNow };
    const { id: importId } = db
      .insert(imports)
      .values({ ...file, ...counts })
      .returning()
      .get();
    const onDay = addDays(today, -daysAgo);
    const entry = { ...at(seen, n), ...by, cultureId: at(ids, n), onDay, importId };
    const id = appendEntry(db, entry);
    compareWithNothingKept?.();
    db.delete(diary).where(eq(diary.id, id)).run();
  },
  'given up': (bench, n, daysAgo) => {
    const giveUp = () =>
      bench.db.transaction((tx) => {
        const cultureId = at(bench.ids, n);
        appendEntry(tx, { ...at(seen, n), ...by, cultureId, onDay: addDays(bench.today, -daysAgo) });
        compareWithNothingKept?.();
        throw new Error('given up');
      });
    expect(giveUp).toThrow('given up');
  },
  'next day': (bench, n) => {
    bench.today = addDays(bench.today, n % 3);
  },
  code: ({ db, ids }, n) => {
    db.update(cultures)
      .set({ code: `X-${n}` })
      .where(eq(cultures.id, at(ids, n)))
      .run();
  },
};

let compareWithNothingKept: (() => void) | null = null;

/** The same database seen through another object, for which nothing of what was worked out before is kept. */
const another = ({ sqlite }: Bench): Db => drizzle(sqlite, { schema: tables });

function compare(bench: Bench) {
  const about = { today: bench.today, business: readBusiness(bench.db) };
  const nothingKept = another(bench);
  for (const read of [keptFacts, waterDueByCulture, stagesByCulture])
    expect(read(bench.db, bench.today)).toEqual(read(nothingKept, bench.today));
  expect(todaysRound({ ...about, db: bench.db })).toEqual(todaysRound({ ...about, db: nothingKept }));
}

const days = fc.integer({ min: 0, max: 20 });
const steps = fc.array(fc.tuple(fc.constantFrom(...Object.keys(deeds)), fc.nat({ max: 10_000 }), days), {
  minLength: 4,
  maxLength: 9,
});

describe('what is kept of a round', () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await furnished();
    compareWithNothingKept = () => compare(bench);
  });

  it('is what would be worked out from nothing, whatever is written in whatever order', async () => {
    const met = new Set<string>();
    await fc.assert(
      fc.asyncProperty(steps, async (walk) => {
        for (const [name, n, daysAgo] of walk) {
          deeds[name]?.(bench, n, daysAgo);
          met.add(name);
          compare(bench);
        }
        const nothingKept = another(bench);
        expect(await startsThisWeek(bench.db, bench.today)).toEqual(
          await startsThisWeek(nothingKept, bench.today),
        );
      }),
      { numRuns: 6 },
    );
    expect(met.size).toBeGreaterThan(8);
  });

  it('is not what was seen inside a transaction that was given up, whatever is written next', () => {
    const [one, other] = [0, 1];
    deeds['given up']?.(bench, one, 0);
    for (const n of [other, other + 4]) deeds.entry?.(bench, n, 0);
    compare(bench);
  });

  it('is the very same where nothing was written, and new only for the culture that was', () => {
    const about = { today: bench.today, business: readBusiness(bench.db), db: bench.db };
    bench.db.update(cultures).set({ status: 'active' }).run();
    const before = todaysRound(about).all;
    expect(before).toHaveLength(4);
    expect(todaysRound(about).all.every((one, i) => one === before[i])).toBe(true);
    const [first = 0] = bench.ids;
    appendEntry(bench.db, { kind: 'feed', food: 'leaves', ...by, cultureId: first, onDay: bench.today });
    const code = bench.db.select().from(cultures).where(eq(cultures.id, first)).get()?.code;
    const anew = todaysRound(about).all.filter((one) => !before.includes(one));
    expect(anew.map(({ row }) => row.code)).toEqual([code]);
  });
});
