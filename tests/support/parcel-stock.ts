import { insertCarrier, saveArea } from '../../server/parcels/queries-carriers.ts';
import { insertBox, insertBoxLog, insertPack } from '../../server/parcels/queries-stock.ts';
import { insertWeatherPlace } from '../../server/parcels/queries-weather.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { newCarrier } from '../../shared/parcels/carrier-form.ts';
import { testNow } from './test-app.ts';

/** A measured box, a heat pack, a place that parcels come through, a carrier and an area: one of each. */
export function furnishParcels(db: Db) {
  const boxId = insertBox(
    db,
    {
      name: 'Small foam',
      lengthMm: 200,
      widthMm: 150,
      heightMm: 100,
      wallMm: 20,
      conductivityWPerMK: 0.035,
      conductivitySource: 'test',
      conductanceWPerK: null,
      conductanceLogId: null,
      emptyMassG: 120,
      priceMinor: 350,
      numberLeft: 2,
      note: '',
    },
    testNow,
  );
  insertBoxLog(db, {
    boxId,
    contentsMassG: 1000,
    contentsJPerKgK: 4186,
    readings: [
      [0, 40, 20],
      [1, 36, 20],
      [2, 33, 20],
    ],
    conductanceWPerK: 0.25,
    standardError: 0.01,
    lowerWPerK: 0.2,
    upperWPerK: 0.3,
    madeBy: null,
    madeAt: testNow,
  });
  insertPack(
    db,
    {
      name: 'Warm 40',
      kind: 'heat',
      massG: 90,
      watts: 3,
      hours: 40,
      warmUpHours: 1,
      meltingC: null,
      latentJPerKg: null,
      heatCapacityJPerKgK: null,
      startTempC: null,
      smallestBoxL: 2,
      mostInBox: 1,
      priceMinor: 120,
      numberLeft: 1,
      source: 'test',
      note: '',
    },
    testNow,
  );
  const placeId = insertWeatherPlace(
    db,
    { name: 'Depot', label: '', part: 'hub', latitude: 52, longitude: 13 },
    testNow,
  );
  insertCarrier(db, { ...newCarrier, name: 'Example Post', country: 'DE' }, testNow);
  saveArea(db, { placeId, country: 'DE', postcodeStart: '', madeAt: testNow });
}
