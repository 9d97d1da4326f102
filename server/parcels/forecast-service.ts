import { z } from 'zod';
import { COLDEST_C, WARMEST_C } from '../../shared/climate/vapour.ts';
import type { Low } from '../../shared/parcels/days-of-hours.ts';
import type { ServiceKey } from '../../shared/parcels/weather-form.ts';

export type ForecastPlace = { latitude: number; longitude: number };

/** What came of asking a service about a place. */
export type Forecast =
  | { kind: 'days'; days: Low[]; forecastAt: number; lastModified: string | null; expiresAt: number | null }
  | { kind: 'unchanged'; expiresAt: number | null }
  /** `everybody`: the service wants to be left alone, whatever the place. */
  | { kind: 'failed'; why: string; retryAt: number | null; everybody: boolean };

export type Question = {
  /** Without a slash at the end. */
  address: string;
  place: ForecastPlace;
  contact: string;
  lastModified: string | null;
  now: number;
  timeoutMs: number;
};

/** A public service that forecasts lows and highs for coordinates. */
export type ForecastService = {
  key: ServiceKey;
  /** As it stands beside every figure. */
  source: string;
  /** Where it is asked unless the owner says otherwise. */
  address: string;
  where: string;
  covers(place: ForecastPlace): boolean;
  ask(question: Question): Promise<Forecast>;
};

/** Thrown inside an adapter; becomes a Forecast that failed. */
export class ForecastTrouble extends Error {
  readonly retryAt: number | null;
  readonly everybody: boolean;

  constructor(
    why: string,
    { retryAt = null, everybody = false }: { retryAt?: number | null; everybody?: boolean } = {},
  ) {
    super(why);
    this.retryAt = retryAt;
    this.everybody = everybody;
  }
}

const MOST_BYTES = 5_000_000;

/** Seconds or a date, as HTTP has it (RFC 9110, 10.2.3); at most a day is believed. */
export function retryAtOf(header: string | null, now: number): number | null {
  if (header === null) return null;
  const at = /^\d+$/.test(header.trim()) ? now + Number(header) * 1_000 : Date.parse(header);
  return Number.isFinite(at) ? Math.min(Math.max(at, now), now + 86_400_000) : null;
}

const dateOf = (header: string | null): number | null => {
  const at = header === null ? Number.NaN : Date.parse(header);
  return Number.isFinite(at) ? at : null;
};

async function bodyOf(response: Response): Promise<string> {
  const reader = response.body?.getReader();
  if (!reader) return '';
  const chunks: Uint8Array[] = [];
  let size = 0;
  for (let read = await reader.read(); !read.done; read = await reader.read()) {
    size += read.value.byteLength;
    if (size > MOST_BYTES) {
      await reader.cancel();
      throw new ForecastTrouble('It answered with far more than a forecast.');
    }
    chunks.push(read.value);
  }
  return Buffer.concat(chunks).toString('utf8');
}

function refuseStatus(response: Response, now: number): void {
  const { status } = response;
  if (response.ok || status === 304) return;
  const retryAt = retryAtOf(response.headers.get('retry-after'), now);
  if (status === 429)
    throw new ForecastTrouble('It was asked too often and wants to be left alone for a while.', {
      retryAt: retryAt ?? now + 3_600_000,
      everybody: true,
    });
  if (status === 401 || status === 403)
    throw new ForecastTrouble('It refuses to answer: is the contact right, and the address?', {
      everybody: true,
    });
  if (status === 404) throw new ForecastTrouble('It knows nothing of this place.');
  throw new ForecastTrouble(`It answered with status ${status}.`, { retryAt });
}

/** `isUnchanged`: nothing new since `lastModified`, and no JSON. */
export type JsonAnswer = {
  isUnchanged: boolean;
  json: unknown;
  lastModified: string | null;
  expiresAt: number | null;
};

/** Why a request failed on its way, in words. */
function troubleOf(error: unknown, timeoutMs: number): ForecastTrouble {
  if (error instanceof ForecastTrouble) return error;
  const name = error instanceof Error ? error.name : '';
  if (name === 'TimeoutError' || name === 'AbortError')
    return new ForecastTrouble(`It did not answer within ${Math.round(timeoutMs / 1_000)} seconds.`);
  return new ForecastTrouble('It could not be reached.');
}

/** Gets JSON, saying who asks. Redirects are refused: an answer from another address would not be the service's. */
export async function getJson(url: string, question: Question, conditional: boolean): Promise<JsonAnswer> {
  const { contact, lastModified, now, timeoutMs } = question;
  try {
    const response = await fetch(url, {
      headers: {
        accept: 'application/geo+json, application/json',
        'user-agent': `Broodbench/0.1 (self-hosted; ${contact})`,
        ...(conditional && lastModified !== null ? { 'if-modified-since': lastModified } : {}),
      },
      redirect: 'error',
      signal: AbortSignal.timeout(timeoutMs),
    });
    refuseStatus(response, now);
    const isUnchanged = response.status === 304;
    return {
      isUnchanged,
      json: isUnchanged ? null : parsed(await bodyOf(response)),
      lastModified: response.headers.get('last-modified'),
      expiresAt: dateOf(response.headers.get('expires')),
    };
  } catch (error) {
    throw troubleOf(error, timeoutMs);
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new ForecastTrouble(
      /^\s*</.test(text)
        ? 'It answered with a web page, not with data: is the address right?'
        : 'Its answer is no JSON.',
    );
  }
}

/** Holds an answer against its documented shape. */
export function shaped<S extends z.ZodType>(schema: S, json: unknown): z.output<S> {
  const read = schema.safeParse(json);
  if (read.success) return read.data;
  const [issue] = read.error.issues;
  throw new ForecastTrouble(
    `Its answer has another shape than documented (${issue?.path.slice(0, 6).join('.') || 'as a whole'}).`,
  );
}

export const instant = z.iso.datetime({ offset: true }).transform((text) => Date.parse(text));
/** Temperatures that are worked with here; anything else is another unit, a slip, or no weather for animals. */
export function airC(value: number): number {
  if (value >= COLDEST_C && value <= WARMEST_C) return value;
  throw new ForecastTrouble(`It forecasts ${Math.round(value)} °C, which is not worked with here.`);
}

/** Runs an adapter's work; what it throws becomes an answer. */
export async function settled(work: () => Promise<Forecast>): Promise<Forecast> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof ForecastTrouble)) throw error;
    const { message: why, retryAt, everybody } = error;
    return { kind: 'failed', why, retryAt, everybody };
  }
}
