import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { buildApp } from './app.ts';
import { ConfigError, readConfig } from './config.ts';
import { systemClock } from './plumbing/clock.ts';
import { MigrationError, migrate } from './plumbing/migrate.ts';
import { openDatabase } from './plumbing/open-database.ts';

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

  let stopping = false;
  const stop = async () => {
    if (stopping) return;
    stopping = true;
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
