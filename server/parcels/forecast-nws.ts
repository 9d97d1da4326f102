import { z } from 'zod';
import { type Low, sunDayOf } from '../../shared/parcels/days-of-hours.ts';
import {
  airC,
  type ForecastPlace,
  type ForecastService,
  ForecastTrouble,
  getJson,
  instant,
  settled,
  shaped,
} from './forecast-service.ts';

const point = z.object({ properties: z.object({ forecastGridData: z.url({ protocol: /^https?$/ }) }) });

const layer = z.object({
  uom: z.string(),
  values: z.array(z.object({ validTime: z.string().max(80), value: z.number().nullable() })).max(500),
});
/** What is read of a grid's raw data; the rest is let be. */
const grid = z.object({
  properties: z.object({ updateTime: instant, maxTemperature: layer, minTemperature: layer }),
});

const toC: Record<string, (value: number) => number> = {
  'wmoUnit:degC': (value) => value,
  'wmoUnit:degF': (value) => (value - 32) / 1.8,
};

/** The middle of an ISO 8601 interval such as 2026-11-25T13:00:00+00:00/PT13H, as an instant; null where it is none. */
function middleOf(validTime: string): number | null {
  const [start = '', length = ''] = validTime.split('/');
  const [, days = '0', hours = '0', minutes = '0'] =
    /^P(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?)?$/.exec(length) ?? [];
  const at = Date.parse(start);
  const lastsH = Number(days) * 24 + Number(hours) + Number(minutes) / 60;
  return Number.isFinite(at) && lastsH > 0 && lastsH <= 48 ? at + (lastsH / 2) * 3_600_000 : null;
}

/** A layer's values by the day that the middle of their time lies in: highs by the afternoon, lows by the night's end. */
function byDay({ uom, values }: z.output<typeof layer>, longitude: number): Map<string, number> {
  const convert = toC[uom];
  if (!convert)
    throw new ForecastTrouble(`Its temperatures are in ${uom.slice(0, 30)}, which is not known here.`);
  const found = new Map<string, number>();
  for (const { validTime, value } of values) {
    const at = middleOf(validTime);
    if (at === null || value === null) continue;
    found.set(sunDayOf(at, longitude), airC(convert(value)));
  }
  return found;
}

function daysOf(data: z.output<typeof grid>['properties'], longitude: number): Low[] {
  const lows = byDay(data.minTemperature, longitude);
  const highs = byDay(data.maxTemperature, longitude);
  return [...lows].sort().flatMap(([date, minC]) => {
    const maxC = highs.get(date);
    return maxC === undefined || maxC < minC ? [] : [{ date, minC, maxC }];
  });
}

/** Roughly where its points answer: the states with their territories, not the seas between. */
const regions = [
  { south: 24, north: 50, west: -125, east: -66 },
  { south: 51, north: 72, west: -180, east: -129 },
  { south: 18, north: 23, west: -161, east: -154 },
  { south: 17, north: 19, west: -68, east: -64 },
  { south: 13, north: 15, west: 144, east: 146 },
] as const;

const covers = ({ latitude, longitude }: ForecastPlace) =>
  regions.some(
    ({ south, north, west, east }) =>
      latitude >= south && latitude <= north && longitude >= west && longitude <= east,
  );

const degrees = (value: number) => String(Math.round(value * 1e4) / 1e4);

/**
 * The United States National Weather Service: a point says which grid it lies in, the grid holds highs and lows. Terms: say
 * who asks. Its data are in the public domain.
 */
export const nwsForecast: ForecastService = {
  key: 'weather.gov',
  source: 'US National Weather Service',
  address: 'https://api.weather.gov',
  where: 'the United States',
  covers,
  ask: (question) =>
    settled(async () => {
      const { address, place } = question;
      const where = `${degrees(place.latitude)},${degrees(place.longitude)}`;
      const first = await getJson(`${address}/points/${where}`, question, false);
      const next = shaped(point, first.json).properties.forecastGridData;
      // Its word leads to another address: only to one of its own.
      if (new URL(next).origin !== new URL(address).origin)
        throw new ForecastTrouble('It sends us on to another address.');
      const got = await getJson(next, question, true);
      if (got.isUnchanged) return { kind: 'unchanged', expiresAt: got.expiresAt };
      const data = shaped(grid, got.json).properties;
      const days = daysOf(data, place.longitude);
      if (days.length === 0) throw new ForecastTrouble('Its answer covers no whole day.');
      const { lastModified, expiresAt } = got;
      return { kind: 'days', days, forecastAt: data.updateTime, lastModified, expiresAt };
    }),
};
