import { z } from 'zod';
import { daysOfHours } from '../../shared/parcels/days-of-hours.ts';
import {
  airC,
  type ForecastService,
  ForecastTrouble,
  getJson,
  instant,
  settled,
  shaped,
} from './forecast-service.ts';

/** What is read of a Locationforecast 2.0 answer, variant "compact"; the rest is let be. */
const answer = z.object({
  properties: z.object({
    meta: z.object({ updated_at: instant, units: z.object({ air_temperature: z.string() }) }),
    timeseries: z
      .array(
        z.object({
          time: instant,
          data: z.object({ instant: z.object({ details: z.object({ air_temperature: z.number() }) }) }),
        }),
      )
      .max(1_000),
  }),
});

/** Its terms ask for at most four decimals, so that neighbours share an answer. */
const degrees = (value: number) => String(Math.round(value * 1e4) / 1e4);

/**
 * The Norwegian Meteorological Institute's Locationforecast 2.0, for any place on earth. Terms: say who asks, keep what
 * you got until it expires, ask with If-Modified-Since. Licence of its data: CC BY 4.0.
 */
export const metForecast: ForecastService = {
  key: 'met.no',
  source: 'MET Norway',
  address: 'https://api.met.no/weatherapi/locationforecast/2.0',
  where: 'the whole world',
  covers: () => true,
  ask: (question) =>
    settled(async () => {
      const { address, place } = question;
      const query = `lat=${degrees(place.latitude)}&lon=${degrees(place.longitude)}`;
      const got = await getJson(`${address}/compact?${query}`, question, true);
      if (got.isUnchanged) return { kind: 'unchanged', expiresAt: got.expiresAt };
      const { meta, timeseries } = shaped(answer, got.json).properties;
      if (meta.units.air_temperature !== 'celsius')
        throw new ForecastTrouble(
          `Its temperatures are in ${meta.units.air_temperature.slice(0, 20)}, not in celsius.`,
        );
      const hours = timeseries.map(({ time, data }) => ({
        at: time,
        tempC: airC(data.instant.details.air_temperature),
      }));
      const days = daysOfHours(hours, place.longitude);
      if (days.length === 0) throw new ForecastTrouble('Its answer covers no whole day.');
      const { lastModified, expiresAt } = got;
      return { kind: 'days', days, forecastAt: meta.updated_at, lastModified, expiresAt };
    }),
};
