import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { buildApp } from './app.ts';
import { addressOfOrder } from './arrivals/queries-links.ts';
import { type Config, ConfigError, readConfig } from './config.ts';
import { keepEstimatesCurrent } from './counts/keep-current.ts';
import { encloseCareSheets } from './documents/enclose.ts';
import { jobs } from './jobs.ts';
import { startSending } from './mails/send-waiting.ts';
import { startFetching } from './parcels/forecasts.ts';
import { linkAddress } from './people/links.ts';
import { renewSetUpLink } from './people/set-up.ts';
import { systemClock } from './plumbing/clock.ts';
import { startJobs } from './plumbing/jobs.ts';
import { MigrationError, migrate } from './plumbing/migrate.ts';
import { openDatabase } from './plumbing/open-database.ts';
import { ownAddress } from './plumbing/own-address.ts';

/** On the console, not in the log: the set-up link is a secret for whoever started the service. */
function sayWhere(config: Config, setUpToken: string | null) {
  const sentence = setUpToken
    ? `Not set up yet. Within 60 minutes, open this one-time link to make the owner's account:\n  ${linkAddress(config, 'set-up', setUpToken)}`
    : `Open ${ownAddress(config)} in a browser.`;
  console.log(sentence);
}

async function start() {
  const config = readConfig(process.env);
  mkdirSync(config.dataDir, { recursive: true, mode: 0o700 });
  const file = join(config.dataDir, 'broodbench.db');
  const opened = openDatabase(file);
  const { sqlite } = opened;
  migrate(sqlite, systemClock.now(), {
    snapshot: (from) =>
      sqlite
        .prepare('VACUUM INTO ?')
        .run(join(config.dataDir, `before-upgrade-from-${from}-${systemClock.now()}.db`)),
  });
  const app = await buildApp({ ...opened, config, clock: systemClock });
  await app.listen({ host: config.host, port: config.port });
  const listens = app.server.address();
  const port = typeof listens === 'object' && listens ? listens.port : config.port;
  sayWhere({ ...config, port }, renewSetUpLink(opened.db, systemClock.now()));
  const parts = { db: opened.db, clock: systemClock, log: app.log };
  const stopJobs = startJobs(jobs, parts);
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
        return addressOfOrder(opened.db, orderId, { base: ownAddress(config), now: systemClock.now() });
      },
      enclose: async ({ orderId, withCareSheets }, business) =>
        withCareSheets && orderId !== null ? encloseCareSheets({ ...parts, business, config }, orderId) : [],
    });

  let stopping = false;
  const stop = async () => {
    if (stopping) return;
    stopping = true;
    stopJobs();
    stopEstimates();
    await Promise.all([stopFetching(), stopSending?.()]);
    await app.close();
    sqlite.pragma('wal_checkpoint(TRUNCATE)');
    sqlite.close();
    process.exit(0);
  };
  process.on('SIGTERM', stop);
  process.on('SIGINT', stop);
}

start().catch((error: unknown) => {
  const expected = error instanceof ConfigError || error instanceof MigrationError;
  console.error(expected ? error.message : error);
  process.exit(1);
});
