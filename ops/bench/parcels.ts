import { workOutDay } from '../../server/parcels/work-out-day.ts';
import { addDays } from '../../shared/days.ts';
import { packingDay, sizeOf } from '../../shared/parcels/packing-day.ts';
import type { PackingDayQuestion } from '../../shared/parcels/packing-day-form.ts';
import { parcel } from '../../shared/parcels/parcel.ts';
import { parcelInput } from '../../shared/parcels/parcel-form.ts';
import { parcelOptionsInput } from '../../shared/parcels/parcel-options-form.ts';
import { inTurn, ms } from './timing.ts';

const limits = { lethalLowC: 0, safeLowC: 8, safeHighC: 28, lethalHighC: 33 };
const packs = [
  { kind: 'heat', watts: 4, hours: 40 },
  {
    kind: 'melting',
    massKg: 0.3,
    meltingC: 18,
    latentJPerKg: 236_000,
    startTempC: 20,
    heatCapacityJPerKgK: 2_100,
  },
];

/** One parcel over 96 hours at 10-minute steps, with a pack of either kind. */
const oneParcel = parcelInput.parse({
  ambient: Array.from({ length: 97 }, (_, hour) => ({ hour, tempC: 5 + 8 * Math.sin(hour / 4) })),
  box: { conductanceWPerK: 0.2 },
  contents: { massKg: 1, heatCapacityJPerKgK: 3_000 },
  startTempC: 20,
  packs,
  limits,
});

/** A reference of the same shape: as many exponentials as the parcel has steps, and its answer copied. */
function reference(): number {
  const steps = Array.from({ length: 577 }, (_, i) => ({ hour: i / 6, tempC: Math.exp(-i / 60) }));
  return steps.length;
}

const from = '2026-11-25';
const weather = (minC: number) =>
  Array.from({ length: 16 }, (_, i) => ({
    date: addDays(from, i),
    minC: minC + (i % 3),
    maxC: minC + 8 + (i % 4),
  }));

/** Sixty orders on ten days, six boxes and four packs, delivered or held, in mild weather: the slowest kind. */
function packingDayQuestion(): PackingDayQuestion {
  const boxes = [1, 2, 3, 4, 5, 6].map((size) => ({
    name: `box ${size}`,
    insideMm: [150 + 40 * size, 120 + 30 * size, 100 + 20 * size],
    wallMm: 20,
    conductivityWPerMK: 0.035,
    filmWPerM2K: { inside: 8, outside: 15 },
    price: 100 * size,
  }));
  const four = [...packs, { kind: 'heat', watts: 3, hours: 72 }, { ...packs[1], meltingC: 5, startTempC: 4 }];
  const { route, days, ...stock } = parcelOptionsInput.parse({
    boxes,
    packs: four.map((pack, i) => ({ ...pack, name: `pack ${i}` })),
    contents: { massKg: 0.5, heatCapacityJPerKgK: 2_800 },
    startTempC: 20,
    species: [{ name: 'one', ...limits }],
    days: Array.from({ length: 10 }, (_, i) => ({
      dispatchOn: addDays(from, i),
      arrivesOn: addDays(from, i + 2),
    })),
    route: {
      places: ['home', 'hub', 'door'].map((name, i) => ({ name, latitude: 50 + i, days: weather(10 + i) })),
      legs: [
        { place: 'home', hours: 5 },
        { place: 'hub' },
        { place: 'door', hours: 6, way: 'delivered', warmerByC: 4 },
        { place: 'door', hours: 3, way: 'delivered', afterArrival: true },
        { steadyC: 19, hours: 20, way: 'held', afterArrival: true },
      ],
      packedAtHour: 14,
      deliveredAtHour: 13,
      forecastOn: from,
      errorC: { atOnce: 1.5, perDay: 0.3 },
    },
  });
  if (!route) throw new Error('no route');
  return {
    from,
    days: 10,
    boxes: stock.boxes,
    packs: stock.packs,
    startTempC: 20,
    routes: [{ key: 'one', route, days, closed: [], ways: ['delivered', 'held'], heldPrice: 100 }],
    orders: Array.from({ length: 60 }, (_, id) => ({
      id,
      routeKey: 'one',
      earliest: from,
      species: stock.species,
      contents: { ...stock.contents, massKg: 0.5 + id / 100 },
    })),
    units: 'metric',
    locale: 'en-GB',
  };
}

export async function sayParcels(): Promise<void> {
  const [ours, bare] = await inTurn(
    100,
    async () => parcel(oneParcel),
    async () => reference(),
  );
  console.log(
    `one parcel over 96 h at 10-minute steps: median ${ms(ours.median)}; as many exponentials ${ms(bare.median)}; ratio ${(ours.median / bare.median).toFixed(1)} (target under 2 ms)`,
  );
  const question = packingDayQuestion();
  const one = { ...question, orders: question.orders.slice(0, 1) };
  const [all, single] = await inTurn(
    5,
    async () => packingDay(question),
    async () => packingDay(one),
  );
  console.log(
    `60 orders x 10 days, ${sizeOf(question)} options: median ${ms(all.median)}; one order ${ms(single.median)}; ratio ${(all.median / single.median).toFixed(1)} (target under 1000 ms)`,
  );
  await workOutDay(question);
  const start = performance.now();
  await workOutDay(question);
  console.log(`the same in its thread, once that is awake: ${ms(performance.now() - start)}`);
}
