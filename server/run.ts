import type { FastifyInstance } from 'fastify';
import { buildApp } from './app.ts';
import { addressOfOrder } from './arrivals/queries-links.ts';
import { makeKeeper, startKeeping } from './backups/keeper.ts';
import type { Config } from './config.ts';
import { keepEstimatesCurrent } from './counts/keep-current.ts';
import { encloseCareSheets } from './documents/enclose.ts';
import { jobs, whenBack } from './jobs.ts';
import { startSending } from './mails/send-waiting.ts';
import { startFetching } from './parcels/forecasts.ts';
import { linkAddress } from './people/links.ts';
import { renewSetUpLink } from './people/set-up.ts';
import { type Clock, systemClock } from './plumbing/clock.ts';
import { watchDisk } from './plumbing/disk.ts';
import { startJobs } from './plumbing/jobs.ts';
import { endWithAnswers } from './plumbing/last-answers.ts';
import { logLastWords } from './plumbing/last-words.ts';
import { ownAddress } from './plumbing/own-address.ts';
import { followPause } from './plumbing/pause.ts';
import { stopOnSignals } from './plumbing/stop.ts';
import { rememberTime, watchClock } from './plumbing/watched-clock.ts';
import { CannotStart, type Prepared } from './prepare.ts';
import { tellTroubles } from './running/tell-troubles.ts';

/** On the console, not in the log: the set-up link is a secret for whoever started the service. */
function sayWhere(config: Config, setUpToken: string | null) {
  const sentence = setUpToken
    ? `Not set up yet. Within 60 minutes, open this one-time link to make the owner's account:\n  ${linkAddress(config, 'set-up', setUpToken)}`
    : `Open ${ownAddress(config)} in a browser.`;
  console.log(sentence);
}

type Log = { info(o: object, m: string): void; error(o: object, m: string): void };

/** All the work that goes on beside the requests; returns what stops it. */
function startWork(config: Config, clock: Clock, { db }: Prepared, log: Log) {
  const parts = { db, clock, log };
  const stopJobs = startJobs(jobs, { ...parts, isSteady: (now) => rememberTime(db, now) });
  const stopEstimates = keepEstimatesCurrent(parts);
  const stopFetching = startFetching(parts);
  const { mail: server } = config;
  const stopSending =
    server &&
    startSending({
      ...parts,
      server,
      pageOf: ({ orderId }) => {
        if (orderId === null) return null;
        return addressOfOrder(db, orderId, { base: ownAddress(config), now: clock.now() });
      },
      enclose: async ({ orderId, withCareSheets }, business) =>
        withCareSheets && orderId !== null ? encloseCareSheets({ ...parts, business, config }, orderId) : [],
    });
  return async () => {
    stopJobs();
    stopEstimates();
    await Promise.all([stopFetching(), stopSending?.()]);
  };
}

const listenFaults: Record<string, string> = {
  EADDRINUSE: 'is taken by another program. Stop that one, or set PORT to another number',
  EACCES: 'may only be used by the root of the machine. Set PORT to 1024 or more',
  EADDRNOTAVAIL: 'is not an address of this machine. Mend HOST',
};

async function listen(app: FastifyInstance, { host, port }: Config): Promise<void> {
  try {
    await app.listen({ host, port });
  } catch (error) {
    const words = listenFaults[(error as NodeJS.ErrnoException).code ?? ''];
    if (!words) throw error;
    throw new CannotStart(`Port ${port} on ${host} ${words}.`, { cause: error });
  }
}

/** Runs the service on a data folder that is held for it and a database that is ready, until a signal ends it. */
export async function run(prepared: Prepared, letGo: () => void): Promise<void> {
  const { sqlite, db, database, settings: config, isTrial } = prepared;
  const clock = watchClock(systemClock, db, whenBack);
  const disk = watchDisk({ folder: config.dataDir, minFreeBytes: config.minFreeBytes, clock });
  const log = {
    info: (o: object, m: string) => app.log.info(o, m),
    error: (o: object, m: string) => app.log.error(o, m),
  };
  const { backupDir: shelf, backupHook: hook } = config;
  const keeper = makeKeeper({ db, clock, log, database, shelf, hook, leaveBytes: config.minFreeBytes });
  const pausing = followPause({ folder: config.dataDir, sqlite, log });
  const app = await buildApp({ sqlite, db, config, clock, keeper, disk, pausing, isTrial });
  const endAnswers = endWithAnswers(app);
  await listen(app, config);
  const listens = app.server.address();
  const port = typeof listens === 'object' && listens ? listens.port : config.port;
  const setUpToken = renewSetUpLink(db, clock.now());
  pausing.begin(() => startWork({ ...config, port }, clock, prepared, app.log));
  const troubles = { db, clock, keeper, disk };
  const stopKeeping = startKeeping(keeper, app.log, () => config.mail && tellTroubles(troubles));
  const stop = stopOnSignals(
    async () => {
      stopKeeping();
      await Promise.all([pausing.stop(), endAnswers()]);
    },
    app.server,
    () => {
      sqlite.pragma('wal_checkpoint(TRUNCATE)');
      sqlite.close();
      letGo();
    },
  );
  logLastWords(process, log, stop);
  // Last: whoever waits for this line may stop the service from then on.
  sayWhere({ ...config, port }, setUpToken);
}
