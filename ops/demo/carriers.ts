import { insertCarrier, saveArea, saveParcelHabits } from '../../server/parcels/queries-carriers.ts';
import { listWeatherPlaces } from '../../server/parcels/queries-weather.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { newCarrier } from '../../shared/parcels/carrier-form.ts';
import { usualHabits } from '../../shared/parcels/habits-form.ts';

/** An invented carrier with two services, and whose weather counts for which postcodes. */
export function writeCarriers(tx: Db, country: string, now: number): void {
  const places = new Map(listWeatherPlaces(tx).map(({ name, id }) => [name, id]));
  const hubPlaceId = places.get('Sorting hall') ?? null;
  const carrierId = insertCarrier(
    tx,
    {
      ...newCarrier,
      name: 'Example Post, next day',
      country,
      hubPlaceId,
      mayHold: true,
      holdPriceMinor: 180,
      note: 'Takes live invertebrates in a strong box; asked in spring.',
    },
    now,
  );
  insertCarrier(
    tx,
    { ...newCarrier, name: 'Example Post, two days', country, hubPlaceId, transitDays: 2, collectsOn: '12' },
    now,
  );
  saveParcelHabits(tx, { ...usualHabits, originPlaceId: places.get('Exampleton') ?? null, carrierId });
  for (const [name, postcodeStart] of [
    ['The south coast', ''],
    ['The north', 'EX7'],
    ['The north', 'NX'],
  ] as const) {
    const placeId = places.get(name);
    if (placeId !== undefined) saveArea(tx, { placeId, country, postcodeStart, madeAt: now });
  }
}
