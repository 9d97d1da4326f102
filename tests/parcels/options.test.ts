import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { addDays } from '../../shared/days.ts';
import { loadsOf } from '../../shared/parcels/loads.ts';
import { curvesOf } from '../../shared/parcels/option-curves.ts';
import { parcel } from '../../shared/parcels/parcel.ts';
import { parcelInput } from '../../shared/parcels/parcel-form.ts';
import { optionsOn, type ParcelOptions, parcelOptions } from '../../shared/parcels/parcel-options.ts';
import {
  type ParcelOptionsQuestion,
  parcelOptionsInput,
  SCENARIOS,
} from '../../shared/parcels/parcel-options-form.ts';
import { tightestLimits } from '../../shared/parcels/tightest-limits.ts';
import { type Trip, tripsOf } from '../../shared/parcels/trip-air.ts';

const species = [{ name: 'A', lethalLowC: 0, safeLowC: 8, safeHighC: 28, lethalHighC: 33 }];
const small = { name: 'small', insideMm: [200, 150, 100], conductanceWPerK: 0.25, price: 300 };
const large = { name: 'large', insideMm: [300, 250, 200], conductanceWPerK: 0.4, price: 500 };
const heat = { name: 'heat pack', kind: 'heat', watts: 4, hours: 72, price: 150, smallestBoxL: 5 };
const gelPack = {
  kind: 'melting',
  massKg: 0.5,
  meltingC: 0,
  latentJPerKg: 333_600,
  startTempC: -15,
  heatCapacityJPerKgK: 3_000,
};
const cold = { ...gelPack, name: 'gel pack', price: 80 };
const from = '2026-11-25';
const week = (minC: number, maxC: number, days = 8) =>
  Array.from({ length: days }, (_, i) => ({ date: addDays(from, i), minC, maxC }));
const route = {
  places: [
    { name: 'home', latitude: 52, days: week(19, 21) },
    { name: 'hub', latitude: 52, days: week(19, 21) },
  ],
  legs: [
    { place: 'home', hours: 4 },
    { place: 'hub' },
    { place: 'hub', hours: 3, way: 'delivered', afterArrival: true },
    { steadyC: 20, hours: 20, way: 'held', afterArrival: true },
  ],
  packedAtHour: 14,
  deliveredAtHour: 13,
  forecastOn: from,
  errorC: { atOnce: 1.5, perDay: 0.5 },
};
const base = {
  boxes: [large, small],
  contents: { massKg: 0.5, heatCapacityJPerKgK: 3000 },
  startTempC: 20,
  species,
  days: [0, 1].map((i) => ({ dispatchOn: addDays(from, i), arrivesOn: addDays(from, i + 1) })),
  route,
};
const weatherOf = (minC: number, maxC: number) => ({
  ...route,
  places: route.places.map((place) => ({ ...place, days: week(minC, maxC) })),
});

function ask(given: object): ParcelOptions {
  const outcome = calculations['parcel-options'].run({ ...base, ...given });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.result as ParcelOptions;
}
function refuses(given: object): string {
  const outcome = calculations['parcel-options'].run({ ...base, ...given });
  if (outcome.ok) throw new Error('was not refused');
  return outcome.faults.map(({ path, message }) => `${path}: ${message}`).join('\n');
}

describe('parcel-options', () => {
  test('the worked example: in mild weather the cheapest box without a pack, on the first day', () => {
    const { options, refused } = ask({ packs: [heat] });
    expect(options[0]).toMatchObject({ box: 'small', pack: null, packs: 0, dispatchOn: from, cost: 300 });
    expect(options.map(({ cost }) => cost)).toEqual(
      [...options.map(({ cost }) => cost)].sort((a, b) => a - b),
    );
    expect(options.some(({ pack }) => pack !== null)).toBe(false);
    expect(refused.find(({ box, pack }) => box === 'large' && pack === 'heat pack')?.why).toMatch(
      /^never a heat pack here: warmer than 28 °C within \d+ h, as forecast$/,
    );
  });

  test('in the cold a heat pack, where it has room; a cold pack never', () => {
    const { options, refused } = ask({ packs: [heat, cold], route: weatherOf(2, 6) });
    expect(options[0]).toMatchObject({ box: 'large', pack: 'heat pack', packs: 1, cost: 650 });
    expect(refused).toContainEqual({
      box: 'small',
      pack: 'heat pack',
      packs: 1,
      dispatchOn: null,
      way: null,
      why: 'heat pack wants a box of at least 5 l, this one holds 3 l',
    });
    const why = (box: string, pack: string | null) =>
      refused.find((one) => one.box === box && one.pack === pack)?.why ?? '';
    expect(why('large', null)).toMatch(/^colder than 8 °C within \d+ h, as forecast$/);
    expect(why('large', 'gel pack')).toMatch(/^never a cold pack here: colder than 8 °C/);
  });

  test('what is used up, or too small, or held at a price', () => {
    const { options, refused } = ask({
      boxes: [{ ...small, left: 0 }, large, { ...small, name: 'tiny', insideMm: [100, 100, 50] }],
      packs: [{ ...heat, left: 1, most: 2 }],
      contents: { ...base.contents, volumeL: 2 },
      heldPrice: 90,
    });
    const whys = refused.map(({ why }) => why);
    expect(whys).toContain('no small is left');
    expect(whys).toContain('holds 0.5 l, the contents need 2 l');
    expect(whys).toContain('only 1 heat pack left');
    expect(options.find(({ way }) => way === 'held')?.cost).toBe(590);
  });

  test('a late parcel needs the weather of one day more; a gap is said once for a day and a way', () => {
    const short = { ...route, places: route.places.map((place) => ({ ...place, days: week(19, 21, 3) })) };
    const { options, refused } = ask({ route: short, boxes: [small] });
    expect(new Set(options.map(({ dispatchOn }) => dispatchOn))).toEqual(new Set([from]));
    expect(refused).toEqual([
      {
        box: null,
        pack: null,
        packs: 0,
        dispatchOn: '2026-11-26',
        way: 'delivered',
        why: 'no forecast for hub on 2026-11-28, should it be a day late',
      },
      expect.objectContaining({ way: 'held' }),
    ]);
  });

  test('several species travel within the tightest limits, or not together at all', () => {
    const warm = { name: 'B', lethalLowC: 5, safeLowC: 12, safeHighC: 30, lethalHighC: 36 };
    expect(ask({ species: [...species, warm] }).limits).toEqual({
      lethalLowC: 5,
      safeLowC: 12,
      safeHighC: 28,
      lethalHighC: 33,
    });
    const tropical = { ...warm, name: 'C', safeLowC: 28 };
    expect(refuses({ species: [...species, tropical] })).toBe(
      'species: C and A cannot share a parcel: no temperature is safe for both',
    );
  });

  test('faults are named where they are', () => {
    expect(refuses({ boxes: [small, small] })).toBe('boxes[1].name: stands there twice');
    expect(refuses({ route: undefined })).toContain(
      'days[0]: has no air: give delivered or held, or a route',
    );
    expect(refuses({ route: { ...route, legs: [{ place: 'moon' }] } })).toBe(
      'route.legs[0].place: is none of the places',
    );
    expect(refuses({ route: { ...route, legs: [{ place: 'hub', hours: 3 }] } })).toMatch(
      /route.legs: delivered: exactly one leg leaves its hours out, here 0/,
    );
    expect(refuses({ route: { ...route, legs: [{ place: 'hub', hours: 60 }, { place: 'hub' }] } })).toBe(
      'route.legs: take 60 h, longer than the trip that starts on 2026-11-25',
    );
    expect(refuses({ boxes: [{ ...small, wallMm: 3 }] })).toMatch(/^boxes\[0\].wallMm: does not go with/);
  });
});

describe('trips', () => {
  const [delivered, held] = tripsOf(parcelOptionsInput.parse(base)) as [Trip, Trip];
  const airOf = (trip: Trip) => {
    if ('why' in trip.air) throw new Error(trip.air.why);
    return trip.air.airs;
  };

  test('last from packing to the porch or the counter; a day late is a day more', () => {
    const hours = (trip: Trip) =>
      SCENARIOS.map((scenario) => Math.round(airOf(trip)[scenario].hours.at(-1)!));
    expect(hours(delivered)).toEqual([26, 26, 26, 50]);
    expect(hours(held)).toEqual([43, 43, 43, 67]);
  });

  test('colder and warmer lie the error of the forecast apart, more so the next day; the counter is steady', () => {
    const { forecast, colder } = airOf(held);
    const off = (i: number) => forecast.tempC[i]! - colder.tempC[i]!;
    expect(off(0)).toBeCloseTo(1.5, 9);
    expect(off(14)).toBeCloseTo(2, 9);
    expect(colder.tempC.at(-1)).toBe(20);
  });
});

const temps = fc.array(fc.double({ min: -15, max: 42, noNaN: true }), { minLength: 3, maxLength: 8 });
const curve = temps.map((list) => list.map((tempC, i) => ({ hour: 8 * i, tempC })));
const days = fc.record({ forecast: curve, colder: curve, warmer: curve, late: curve });
const questions = fc.record({ air: days, massKg: fc.double({ min: 0.1, max: 3, noNaN: true }) }).map(
  ({ air, massKg }): ParcelOptionsQuestion =>
    parcelOptionsInput.parse({
      ...base,
      packs: [{ ...heat, smallestBoxL: 0 }, cold],
      contents: { ...base.contents, massKg },
      route: undefined,
      days: [{ dispatchOn: from, arrivesOn: addDays(from, 2), delivered: air }],
    }),
);

describe('for any air', () => {
  test('an option is safe in every scenario, a refused one is not, as `parcel` has it', () => {
    let [safe, unsafe] = [0, 0];
    fc.assert(
      fc.property(questions, (question) => {
        const { options, refused, limits } = parcelOptions(question);
        expect(options.length + refused.length).toBe(6);
        for (const one of [...options, ...refused]) {
          const { conductanceWPerK } = question.boxes.find(({ name }) => name === one.box)!;
          const heatPack = { kind: 'heat', watts: heat.watts, hours: heat.hours };
          const packs = one.pack === null ? [] : [one.pack === heat.name ? heatPack : gelPack];
          const verdicts = SCENARIOS.map((scenario) => {
            const ambient = question.days[0]!.delivered![scenario];
            const { massKg, heatCapacityJPerKgK } = question.contents;
            return parcel(
              parcelInput.parse({
                ambient,
                box: { conductanceWPerK },
                contents: { massKg, heatCapacityJPerKgK },
                startTempC: 20,
                packs,
                limits,
              }),
            );
          });
          const isSafe = verdicts.every(({ verdict }) => verdict === 'go');
          expect('why' in one).toBe(!isSafe);
          if (isSafe) safe += 1;
          else unsafe += 1;
          if (!('why' in one)) {
            expect(one.lowestC).toBeCloseTo(Math.min(...verdicts.map(({ lowestC }) => lowestC)), 6);
            expect(one.highestC).toBeCloseTo(Math.max(...verdicts.map(({ highestC }) => highestC)), 6);
          }
        }
      }),
      { numRuns: 40 },
    );
    expect(safe).toBeGreaterThan(5);
    expect(unsafe).toBeGreaterThan(5);
  });

  test('leaving the forecast out between colder and warmer changes nothing', () => {
    fc.assert(
      fc.property(fc.integer({ min: -5, max: 30 }), fc.integer({ min: 1, max: 12 }), (minC, range) => {
        const question = parcelOptionsInput.parse({
          ...base,
          packs: [heat, cold],
          route: weatherOf(minC, minC + range),
        });
        const limits = tightestLimits(question.species);
        const { loads } = loadsOf(question);
        const trips = tripsOf(question);
        const all = trips.map(
          (trip): Trip => ({
            ...trip,
            air: 'why' in trip.air ? trip.air : { ...trip.air, isOrdered: false },
          }),
        );
        expect(optionsOn(trips, loads, limits)).toEqual(optionsOn(all, loads, limits));
      }),
      { numRuns: 25 },
    );
  });
});

describe('curves of one option', () => {
  test('every scenario, with the air outside and the verdict', () => {
    const question = parcelOptionsInput.parse({ ...base, route: weatherOf(2, 6) });
    const [trip] = tripsOf(question) as [Trip];
    const curves = curvesOf(trip, loadsOf(question).loads[0]!, tightestLimits(species), 60);
    expect(curves.map(({ scenario }) => scenario)).toEqual([...SCENARIOS]);
    expect(curves[1]!.lowestC).toBeLessThan(curves[0]!.lowestC);
    expect(curves[0]!.inside[0]).toEqual({ hour: 0, tempC: 20 });
    expect(curves[0]!.outside.at(-1)!.hour).toBeCloseTo(26, 6);
    expect(curves[3]!.verdict).not.toBe('go');
  });
});
