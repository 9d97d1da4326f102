import { type Config, ConfigError, idleSettings, readConfig } from './config.ts';
import { systemClock } from './plumbing/clock.ts';
import { BadFolder, checkDataFolder } from './plumbing/data-folder.ts';
import { AlreadyInUse, holdFolder } from './plumbing/one-instance.ts';

/** What can be known about settings, folder and database is said at once, before the program itself is loaded. */
async function start() {
  const config: Config = readConfig(process.env);
  for (const idle of idleSettings(process.env)) console.error(idle);
  checkDataFolder(config);
  const held = holdFolder(config.dataDir, 'the service');
  const { prepare } = await import('./prepare.ts');
  const prepared = await prepare(config, systemClock, (line) => console.log(line));
  const { run } = await import('./run.ts');
  await run(prepared, held.release);
}

process.umask(0o077);
start().catch((error: unknown) => {
  const isExpected = [ConfigError, BadFolder, AlreadyInUse].some((kind) => error instanceof kind);
  // What stops a start later says for itself whether it is in words for people: see prepare.ts.
  const hasWords = isExpected || (error instanceof Error && error.name === 'CannotStart');
  console.error(hasWords ? (error as Error).message : error);
  process.exit(1);
});
