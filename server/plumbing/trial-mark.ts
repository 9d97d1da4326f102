import { join } from 'node:path';
import type { Config } from '../config.ts';
import type { Sqlite } from './open-database.ts';

/** Stands in the head of a database that is a copy without persons: "tria" (SQLite, PRAGMA application_id). */
export const trialMark = 0x74_72_69_61;

export const isTrialCopy = (sqlite: Sqlite) =>
  sqlite.pragma('application_id', { simple: true }) === trialMark;

/**
 * What a copy for trying things is run with, whatever the settings say, since they may be those of the real service: no
 * mail leaves it, its backups stay in its own folder, and no program sends them anywhere.
 */
export const settingsOfTrial = (config: Config): Config => ({
  ...config,
  mail: null,
  backupHook: null,
  backupDir: join(config.dataDir, 'backups'),
});
