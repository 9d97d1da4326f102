import type { ServiceKey } from '../../shared/parcels/weather-form.ts';
import type { Clock } from '../plumbing/clock.ts';
import type { JobsLog } from '../plumbing/jobs.ts';
import { keepLooking } from '../plumbing/keep-looking.ts';
import type { Db } from '../plumbing/open-database.ts';
import { metForecast } from './forecast-met.ts';
import { nwsForecast } from './forecast-nws.ts';
import type { Forecast, ForecastService } from './forecast-service.ts';
import {
  listWeatherServices,
  pauseService,
  placesDue,
  readFetch,
  readWeatherPlace,
  saveFetch,
  type WeatherPlace,
  type WeatherService,
  writeWeatherDays,
} from './queries-weather.ts';

const adapters: Record<ServiceKey, ForecastService> = { 'met.no': metForecast, 'weather.gov': nwsForecast };
export const forecastServices: readonly ForecastService[] = Object.values(adapters);

const minute = 60_000;
const hour = 60 * minute;
/** Forecasts are made some times a day; asking more often than this tells nothing new. */
const leastBetween = hour;
const mostBetween = 12 * hour;
const firstRetry = 15 * minute;
const longestRetry = 6 * hour;
const usualTimeoutMs = 10_000;

export type Fetching = { db: Db; clock: Clock; log: JobsLog; timeoutMs?: number; pauseMs?: number };

/** When to ask again after an answer: not before it runs out, within reason. */
function nextAfter(expiresAt: number | null, now: number): number {
  return Math.min(Math.max(expiresAt ?? 0, now + leastBetween), now + mostBetween);
}

function retryAfter(failures: number, retryAt: number | null, now: number): number {
  const waits = Math.min(longestRetry, firstRetry * 2 ** Math.min(failures, 10));
  return Math.max(retryAt ?? 0, now + waits);
}

/** Keeps what came of one question: the days with their source, and when to ask again. */
function keepForecast(
  db: Db,
  place: WeatherPlace,
  service: ForecastService,
  came: Forecast,
  now: number,
): void {
  db.transaction((tx) => {
    const before = readFetch(tx, place.id, service.key);
    const own = { placeId: place.id, service: service.key, askedAt: now };
    if (came.kind === 'failed') {
      const failures = (before?.failures ?? 0) + 1;
      const nextAt = retryAfter(failures - 1, came.retryAt, now);
      saveFetch(tx, {
        ...own,
        nextAt,
        lastModified: before?.lastModified ?? null,
        failures,
        trouble: came.why,
      });
      if (came.everybody) pauseService(tx, service.key, nextAt);
      return;
    }
    const kept = { ...own, nextAt: nextAfter(came.expiresAt, now), failures: 0, trouble: null };
    if (came.kind === 'unchanged') {
      saveFetch(tx, { ...kept, lastModified: before?.lastModified ?? null });
      return;
    }
    // The place may have moved while the question was on its way.
    const there = readWeatherPlace(tx, place.id);
    if (there?.latitude !== place.latitude || there.longitude !== place.longitude) return;
    const { source } = service;
    const said = {
      placeId: place.id,
      source,
      forecastAt: came.forecastAt,
      via: 'service',
      madeBy: null,
    } as const;
    writeWeatherDays(tx, came.days, { ...said, madeAt: now });
    saveFetch(tx, { ...kept, lastModified: came.lastModified });
  });
}

async function askOne(
  fetching: Fetching,
  place: WeatherPlace,
  service: ForecastService,
  set: WeatherService,
) {
  const { db, clock, log } = fetching;
  const came = await service.ask({
    address: set.address.replace(/\/+$/, ''),
    place,
    contact: set.contact,
    lastModified: readFetch(db, place.id, service.key)?.lastModified ?? null,
    now: clock.now(),
    timeoutMs: fetching.timeoutMs ?? usualTimeoutMs,
  });
  keepForecast(db, place, service, came, clock.now());
  log.info({ place: place.id, service: service.key, came: came.kind }, 'forecast asked');
  return came;
}

/** Those that are on and do not want to be left alone. */
function readyServices(db: Db, now: number): { service: ForecastService; set: WeatherService }[] {
  const sets = new Map(listWeatherServices(db).map((set) => [set.service, set]));
  return forecastServices.flatMap((service) => {
    const set = sets.get(service.key);
    return set?.isOn && (set.pausedUntil ?? 0) <= now ? [{ service, set }] : [];
  });
}

/** Asks about every place whose forecast has run out, one after the other; returns how many questions that were. */
export async function fetchDue(fetching: Fetching, mayGoOn: () => boolean = () => true): Promise<number> {
  const { db, clock, pauseMs = 1_000 } = fetching;
  let asked = 0;
  for (const { service, set } of readyServices(db, clock.now()))
    for (const place of placesDue(db, service.key, clock.now())) {
      if (!service.covers(place)) continue;
      if (!mayGoOn()) return asked;
      if (asked > 0) await new Promise((next) => setTimeout(next, pauseMs));
      const came = await askOne(fetching, place, service, set);
      asked += 1;
      if (came.kind === 'failed' && came.everybody) break;
    }
  return asked;
}

const everyMs = minute;
const longestGoodByeMs = 3_000;

/** Keeps forecasts fresh until it is stopped. Only main.ts does this; with no service turned on it asks nobody. */
export const startFetching = (fetching: Fetching): (() => Promise<void>) =>
  keepLooking((isStopped) => fetchDue(fetching, () => !isStopped()), {
    everyMs,
    log: fetching.log,
    failed: 'forecasts could not be fetched',
    longestGoodByeMs,
  });
