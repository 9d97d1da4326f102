import { insertCarrier, saveArea, saveParcelHabits } from '../../server/parcels/queries-carriers.ts';
import { insertBox, insertPack } from '../../server/parcels/queries-stock.ts';
import { insertWeatherPlace, writeWeatherDays } from '../../server/parcels/queries-weather.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { addDays } from '../../shared/days.ts';
import { type CarrierValues, newCarrier } from '../../shared/parcels/carrier-form.ts';
import { usualHabits } from '../../shared/parcels/habits-form.ts';
import { makeCustomer, makeLine, makeOrder } from './orders.ts';
import { makeSpecies } from './stock.ts';
import { testNow, testToday } from './test-app.ts';

const box = {
  wallMm: 30,
  conductivityWPerMK: 0.035,
  conductivitySource: 'test',
  conductanceWPerK: null,
  conductanceLogId: null,
  emptyMassG: 200,
  note: '',
};
const none = {
  watts: null,
  hours: null,
  warmUpHours: null,
  meltingC: null,
  latentJPerKg: null,
  heatCapacityJPerKgK: null,
  startTempC: null,
};

type Lows = (day: number) => number;

/** The weather of a place for a fortnight: lows by the day's number, highs six degrees above. */
export function writeFortnight(db: Db, placeId: number, lowC: Lows, forecastAt = testNow) {
  const days = Array.from({ length: 16 }, (_, i) => ({
    date: addDays(testToday, i),
    minC: lowC(i),
    maxC: lowC(i) + 6,
  }));
  const said = { source: 'the radio', forecastAt, via: 'page', madeBy: null, madeAt: forecastAt } as const;
  writeWeatherDays(db, days, { ...said, placeId });
}

/** A start, an end for all of Germany, one carrier that goes on Monday to Wednesday, a foam box and a heat pack. */
export function readyToPack(
  db: Db,
  { lowC = () => 14, carrier = {} }: { lowC?: Lows; carrier?: Partial<CarrierValues> } = {},
) {
  const place = { label: '', latitude: 52, longitude: 13 };
  const homeId = insertWeatherPlace(db, { ...place, name: 'Home', part: 'origin' }, testNow);
  const endId = insertWeatherPlace(db, { ...place, name: 'Up north', part: 'destination' }, testNow);
  for (const id of [homeId, endId]) writeFortnight(db, id, lowC);
  saveArea(db, { placeId: endId, country: 'DE', postcodeStart: '', madeAt: testNow });
  const carrierId = insertCarrier(
    db,
    { ...newCarrier, name: 'Example Post', country: 'DE', ...carrier },
    testNow,
  );
  const measures = { lengthMm: 250, widthMm: 200, heightMm: 160 };
  const boxId = insertBox(db, { ...box, ...measures, name: 'Foam', priceMinor: 300, numberLeft: 3 }, testNow);
  const heat = { ...none, kind: 'heat', watts: 3, hours: 40, warmUpHours: 1 } as const;
  const packId = insertPack(
    db,
    {
      ...heat,
      name: 'Warm',
      massG: 90,
      smallestBoxL: 3,
      mostInBox: 1,
      priceMinor: 150,
      numberLeft: 5,
      source: 'test',
      note: '',
    },
    testNow,
  );
  saveParcelHabits(db, { ...usualHabits, originPlaceId: homeId, carrierId });
  return { homeId, endId, carrierId, boxId, packId };
}

/** A confirmed order with one group of a species, which may name its limits. */
export function toPack(
  db: Db,
  species: Partial<Parameters<typeof makeSpecies>[1]> = {},
  dispatchOn?: string,
) {
  const customer = makeCustomer(db);
  const order = makeOrder(db, {
    state: 'confirmed',
    customerId: customer.id,
    ...(dispatchOn !== undefined && { dispatchOn }),
  });
  const kind = makeSpecies(db, species);
  makeLine(db, order.id, kind.id);
  return { order, kind, customer };
}
