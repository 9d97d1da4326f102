import rateLimit from '@fastify/rate-limit';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { type SentReading, sentReadings } from '../../shared/climate/reading-form.ts';
import { type Fault, faultsOf, inWords } from '../../shared/faults.ts';
import type { Config } from '../config.ts';
import type { Clock } from '../plumbing/clock.ts';
import type { Db } from '../plumbing/open-database.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { sha256 } from '../plumbing/sessions.ts';
import { readBusiness } from '../settings/queries.ts';
import { type Sensor, sensorByToken } from './queries-places.ts';
import { insertReadings } from './queries-readings.ts';
import { sensorDocument } from './sensor-document.ts';

type Parts = { db: Db; clock: Clock; config: Pick<Config, 'baseUrl' | 'host' | 'port'> };

declare module 'fastify' {
  interface FastifyRequest {
    sensor: Sensor | null;
  }
}

/** A sensor every few seconds is plenty; more is a loop gone wrong. */
const mostAMinute = 30;
/** Clocks of small devices are not exact. */
const aheadMs = 10 * 60_000;

const titles: Record<number, string> = {
  400: 'These readings cannot be taken',
  401: 'The token is missing, wrong or no longer used',
  413: 'Too much at once',
  415: 'Send JSON',
  429: 'Too many at once: wait a minute',
  503: 'Nothing was taken just now: send it again later',
  507: 'Nothing was taken, the disk is nearly full: send it again later',
};

function refuse(reply: FastifyReply, status: number, faults: Fault[] = []) {
  const title = titles[status] ?? 'Something went wrong here';
  const problem = { title, status, faults, requestId: reply.request.id };
  return reply.code(status).type('application/problem+json').send(problem);
}

const tokenOf = ({ headers }: FastifyRequest) =>
  /^Bearer ([\w-]{20,100})$/.exec(headers.authorization ?? '')?.[1];

function readingsOf(sent: SentReading | { readings: SentReading[] }, now: number) {
  const all = 'readings' in sent ? sent.readings : [sent];
  return all.map(({ at, tempC, humidityPct }) => ({
    at: at === undefined ? now : Date.parse(at),
    tempC,
    humidityPct: humidityPct ?? null,
  }));
}

function take({ db, clock }: Parts, request: FastifyRequest, reply: FastifyReply) {
  const { sensor } = request;
  if (!sensor) return refuse(reply, 401);
  const parsed = sentReadings.safeParse(request.body, { error: inWords });
  if (!parsed.success) return refuse(reply, 400, faultsOf(parsed.error));
  const now = clock.now();
  const readings = readingsOf(parsed.data, now);
  const early = readings.findIndex(({ at }) => at > now + aheadMs);
  if (early >= 0) return refuse(reply, 400, [{ path: `readings[${early}].at`, message: 'is still to come' }]);
  const { timeZone } = readBusiness(db);
  const { placeId, id } = sensor;
  const added = db.transaction((tx) =>
    insertReadings(tx, readings, { placeId, timeZone, now, via: 'sensor', sensorId: id }),
  );
  return reply.send({ added, alreadyThere: readings.length - added });
}

/** Where sensors send their readings: JSON and a token, apart from the pages and their sessions. */
export async function serveSensors(app: FastifyInstance, parts: Parts) {
  await app.register(async (own) => {
    own.removeAllContentTypeParsers();
    own.addContentTypeParser(
      'application/json',
      { parseAs: 'string' },
      own.getDefaultJsonParser('error', 'error'),
    );
    own.setErrorHandler((error: FastifyError, request, reply) => {
      const { status } = own.judge(error, request, reply);
      const faults = status === 400 ? [{ path: 'input', message: 'is not JSON' }] : [];
      return refuse(reply, status, faults);
    });
    own.decorateRequest('sensor', null);
    own.addHook('onRequest', async (request) => {
      const token = tokenOf(request);
      request.sensor = token ? (sensorByToken(parts.db, sha256(token)) ?? null) : null;
    });
    await own.register(rateLimit, {
      max: mostAMinute,
      timeWindow: 60_000,
      keyGenerator: (request) => (request.sensor ? `sensor ${request.sensor.id}` : request.ip),
    });
    own.post('/api/climate', { config: { access: 'anyone', ownToken: true } }, (request, reply) =>
      take(parts, request, reply),
    );
    own.get('/api/climate/openapi.json', { config: { access: 'anyone' } }, (_request, reply) =>
      reply.send(sensorDocument(ownAddress(parts.config))),
    );
  });
}
