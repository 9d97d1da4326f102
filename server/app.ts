import compress from '@fastify/compress';
import cookie from '@fastify/cookie';
import formbody from '@fastify/formbody';
import Fastify, { type FastifyInstance } from 'fastify';
import { serveCustomers } from './arrivals/customer.ts';
import { serveCalendars } from './calendar/feed.ts';
import { serveSensors } from './climate/sensor.ts';
import type { Config } from './config.ts';
import { encloseCareSheets } from './documents/enclose.ts';
import { whenBack } from './jobs.ts';
import { serveOffers } from './offers/public.ts';
import { mustSetUp } from './people/queries-second-factor.ts';
import { guardRoutes } from './plumbing/access.ts';
import { answerErrors } from './plumbing/answer-errors.ts';
import { serveAssets, versionOfAssets } from './plumbing/assets.ts';
import type { Keeper } from './plumbing/backups.ts';
import { liveUnder, withoutBase } from './plumbing/base-path.ts';
import type { Clock } from './plumbing/clock.ts';
import { type Disk, refuseWhenFull } from './plumbing/disk.ts';
import { takeFilesInTurn } from './plumbing/files-in-turn.ts';
import { guardAgainstForgery } from './plumbing/forgery.ts';
import { sendSafeHeaders } from './plumbing/headers.ts';
import { loggerOf } from './plumbing/logger.ts';
import type { Opened } from './plumbing/open-database.ts';
import { limitBodies, limitReaders, longestRequestMs } from './plumbing/patience.ts';
import { noPause, type Pausing } from './plumbing/pause.ts';
import { refuseWhilePaused } from './plumbing/refuse-while-paused.ts';
import { furnitureFor, type Serving, serveRoutes } from './plumbing/serve.ts';
import { makeSessions } from './plumbing/sessions.ts';
import { makeStreams } from './plumbing/streams.ts';
import { awaitTurnToWrite } from './plumbing/turn-to-write.ts';
import { acceptUploads } from './plumbing/uploads.ts';
import { watchClock } from './plumbing/watched-clock.ts';
import { routes } from './routes.ts';
import { serveHealth } from './running/health.ts';
import { logFaults } from './running/log-faults.ts';
import { serveMetrics } from './running/metrics.ts';
import { warningOfTrial, warningsOf, warningsOfPause } from './running/warnings.ts';
import { isSetUp, readBusiness } from './settings/queries.ts';

export type Parts = Opened & {
  config: Config;
  clock: Clock;
  /** Where there are none (a test), no backups are made and nobody looks at the disk. */
  keeper?: Keeper | null;
  disk?: Disk | null;
  pausing?: Pausing;
  /** A copy without persons, for trying things. */
  isTrial?: boolean;
};

/** The router answers an address it cannot decode by itself, without our headers; so it gets one that is not there. */
function readableUrl(url: string): string {
  try {
    decodeURIComponent(url.split('?', 1)[0] ?? '');
    return url;
  } catch {
    return '/not-an-address';
  }
}

/** The most bytes of a request's head, its address included. */
const longestHead = 16_384;

/** Asks until the answer is yes, then never again. */
function onceTrue(ask: () => boolean): () => boolean {
  let answered = false;
  return () => {
    answered ||= ask();
    return answered;
  };
}

/** How long a request and whoever reads its answer may take, and which requests let others go first. */
function boundRequests(app: FastifyInstance) {
  limitBodies(app);
  limitReaders(app);
  takeFilesInTurn(app);
}

/** What stands on top of every page of whoever it is. */
const warningsFor =
  ({ keeper = null, disk = null, pausing = noPause, isTrial = false }: Parts): Serving['warnings'] =>
  (who) => [
    ...(isTrial ? [warningOfTrial] : []),
    ...warningsOfPause(pausing.now()),
    ...(who?.role === 'owner' ? warningsOf(keeper, disk) : []),
  ];

/** The whole service without its socket: main and every test build it from the same parts. */
export async function buildApp(parts: Parts): Promise<FastifyInstance> {
  const { db, config, keeper = null, disk = null, pausing = noPause } = parts;
  const clock = watchClock(parts.clock, db, whenBack);
  const app = Fastify({
    logger: loggerOf(config.logLevel),
    genReqId: () => crypto.randomUUID().slice(0, 13),
    rewriteUrl: (request) => readableUrl(withoutBase(request.url ?? '/', config.basePath)),
    trustProxy: config.trustedProxies.length > 0 ? config.trustedProxies : false,
    bodyLimit: 65_536,
    // What comes over a kept line while the service ends is answered too, as what is under way is.
    return503OnClosing: false,
    // Bodies of forms have far less: see patience.ts.
    requestTimeout: longestRequestMs,
    connectionTimeout: 14_000,
    http: { headersTimeout: 10_000, connectionsCheckingInterval: 200, maxHeaderSize: longestHead },
    // No part of an address is too long for the router, which would answer by itself and without our headers.
    routerOptions: { maxParamLength: longestHead, ignoreTrailingSlash: true },
  });
  const sessions = makeSessions(db, clock, config);
  const serving: Serving = {
    db,
    clock,
    config,
    sessions,
    streams: makeStreams(app),
    assetVersion: versionOfAssets(),
    readBusiness,
    keeper,
    warnings: warningsFor(parts),
  };
  boundRequests(app);
  const onFault = logFaults({ log: app.log, clock, keeper, disk });
  answerErrors(app, (request, reply) => furnitureFor(serving, request, reply, readBusiness(db)), onFault);
  if (disk) refuseWhenFull(app, disk, clock);
  await sendSafeHeaders(app, config.secureCookies);
  liveUnder(app, config.basePath);
  await app.register(compress, { encodings: ['br', 'gzip'], threshold: 1_400 });
  await app.register(cookie);
  // Forms only: JSON would bring values of kinds that no form has.
  app.removeAllContentTypeParsers();
  await app.register(formbody, { bodyLimit: 65_536 });
  guardRoutes(app, sessions, {
    isSetUp: onceTrue(() => isSetUp(db)),
    mustAddFactor: (who) => mustSetUp(db, who),
  });
  await guardAgainstForgery(app, config);
  refuseWhilePaused(app, pausing);
  awaitTurnToWrite(app, parts.sqlite);
  await acceptUploads(app);
  await serveAssets(app, serving.assetVersion);
  const health = { ...parts, clock, keeper, disk, pausing, sendsMails: config.mail !== null };
  await serveHealth(app, health);
  await serveMetrics(app, config, health);
  await serveSensors(app, serving);
  await serveCalendars(app, serving);
  await serveCustomers(app, { ...serving, careSheets: encloseCareSheets, pausing });
  await serveOffers(app, { ...serving, pausing });
  serveRoutes(app, routes, serving);
  return app;
}
