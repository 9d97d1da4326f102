import { saveArea } from '../../server/parcels/queries-carriers.ts';
import { insertBox, insertBoxLog, insertPack, updateBox } from '../../server/parcels/queries-stock.ts';
import { insertWeatherPlace, writeWeatherDays } from '../../server/parcels/queries-weather.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { addDays } from '../../shared/days.ts';
import { boxConductance } from '../../shared/parcels/box-conductance.ts';
import { startingBoxes, startingPacks } from '../../shared/parcels/starting-stock.ts';
import type { Chance } from './chance.ts';

const prices = [90, 320, 540];
const packPrices = [110, 160, 140, 390];
const boxesLeft = [40, 22, 9];
const packsLeft = [30, 12, 15, 6];

/** A litre of water that cools in the small foam box for nine hours, read every quarter of an hour. */
function coolingLog(chance: Chance): [number, number, number][] {
  return Array.from({ length: 37 }, (_, i): [number, number, number] => {
    const hour = i / 4;
    const outside = 19.5 + Math.sin(hour / 3);
    const inside = 19.5 + 21 * Math.exp(-hour / 4.6) + chance.whole(-2, 2) / 10;
    return [hour, Math.round(inside * 10) / 10, Math.round(outside * 10) / 10];
  });
}

function writeMeasurement(tx: Db, boxId: number, chance: Chance, madeAt: number, madeBy: string) {
  const readings = coolingLog(chance);
  const contents = { contentsMassG: 1_000, contentsJPerKgK: 4_186 };
  const fit = boxConductance(
    readings.map(([hour, insideC, outsideC]) => ({ hour, insideC, outsideC })),
    { massKg: 1, heatCapacityJPerKgK: 4_186 },
  );
  const { conductanceWPerK, standardError, lowerWPerK, upperWPerK } = fit;
  const figures = { conductanceWPerK, standardError, lowerWPerK, upperWPerK };
  const id = insertBoxLog(tx, { boxId, ...contents, readings, ...figures, madeBy, madeAt });
  updateBox(tx, boxId, { conductanceWPerK, conductanceLogId: id });
}

const weatherPlaces = [
  { name: 'Exampleton', label: 'EX1', part: 'origin', latitude: 52.1, longitude: -1.2, lowC: 9 },
  { name: 'Sorting hall', label: '', part: 'hub', latitude: 52.5, longitude: -1.8, lowC: 9 },
  {
    name: 'The north',
    label: 'NX and around',
    part: 'destination',
    latitude: 56.9,
    longitude: -3.1,
    lowC: -6,
  },
  {
    name: 'The south coast',
    label: 'SX and around',
    part: 'destination',
    latitude: 50.6,
    longitude: -1.9,
    lowC: 10,
  },
  {
    name: 'A hot valley',
    label: 'HX and around',
    part: 'destination',
    latitude: 50.4,
    longitude: -3.9,
    lowC: 26,
  },
] as const;

/** What parcels travel in, one box of it measured, and a week of invented weather with a cold front in the middle. */
export function writeParcels(tx: Db, chance: Chance, today: string, now: number, personId: string) {
  for (const [i, box] of startingBoxes.entries()) {
    const values = { ...box, priceMinor: prices[i] ?? 300, numberLeft: boxesLeft[i] ?? 10, note: '' };
    const id = insertBox(tx, values, now);
    if (box.name === 'Foam-lined, small') writeMeasurement(tx, id, chance, now - 20 * 86_400_000, personId);
  }
  for (const [i, pack] of startingPacks.entries())
    insertPack(
      tx,
      { ...pack, priceMinor: packPrices[i] ?? 150, numberLeft: packsLeft[i] ?? 10, note: '' },
      now,
    );
  for (const { lowC, ...place } of weatherPlaces) {
    const placeId = insertWeatherPlace(tx, place, now);
    if (lowC > 20) saveArea(tx, { placeId, country: 'GB', postcodeStart: 'HX', madeAt: now });
    const days = Array.from({ length: 9 }, (_, i) => {
      const front = i === 3 || i === 4 ? -7 : 0;
      const minC = lowC + (lowC > 20 ? 0 : front) + chance.whole(-10, 10) / 10;
      return { date: addDays(today, i), minC, maxC: minC + 5 + chance.whole(0, 20) / 10 };
    });
    const said = { source: 'invented for the demo', forecastAt: now - 3 * 3_600_000, via: 'demo' } as const;
    writeWeatherDays(tx, days, { ...said, placeId, madeBy: null, madeAt: now });
  }
}
