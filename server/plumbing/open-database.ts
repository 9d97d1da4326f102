import type SqliteDatabase from 'better-sqlite3';
import type { RunResult } from 'better-sqlite3';
import { drizzle } from 'drizzle-orm/better-sqlite3';
import type { BaseSQLiteDatabase } from 'drizzle-orm/sqlite-core';
import * as tables from '../schema/tables.ts';
import { withReadyStatements } from './ready-statements.ts';
import { Database } from './sqlite-driver.ts';

/** Either the database or an open transaction: queries take this and do not care which. */
export type Db = BaseSQLiteDatabase<'sync', RunResult, typeof tables>;
export type Sqlite = SqliteDatabase.Database;
export type Opened = { sqlite: Sqlite; db: Db };

const oldestSqlite = [3, 51, 3] as const;

function checkVersion(sqlite: Sqlite) {
  const { v } = sqlite.prepare('SELECT sqlite_version() AS v').get() as { v: string };
  const parts = v.split('.').map(Number);
  for (const [i, least] of oldestSqlite.entries()) {
    if ((parts[i] ?? 0) > least) return;
    if ((parts[i] ?? 0) < least)
      throw new Error(`SQLite ${v} is too old: ${oldestSqlite.join('.')} is needed.`);
  }
}

/** Pragmas belong to a connection, so this is the only place that opens the database. */
export function wrapDatabase(sqlite: Sqlite): Opened {
  checkVersion(sqlite);
  sqlite.pragma('journal_mode = WAL');
  // The driver sets NORMAL for WAL by itself; an answered write must survive a power cut.
  sqlite.pragma('synchronous = FULL');
  sqlite.pragma('foreign_keys = ON');
  sqlite.pragma('busy_timeout = 250');
  sqlite.pragma('trusted_schema = OFF');
  // What is deleted is overwritten, so that somebody who was erased cannot be read in the file.
  sqlite.pragma('secure_delete = ON');
  return { sqlite, db: drizzle(withReadyStatements(sqlite), { schema: tables }) };
}

export function openDatabase(file: string, options: { readonly?: boolean } = {}): Opened {
  return wrapDatabase(
    new Database(file, { readonly: options.readonly ?? false, fileMustExist: options.readonly ?? false }),
  );
}

/**
 * For backups: a copy that nobody else uses, as one file without the two that a running database has beside it; or read
 * only, then it may be the running one, and not a byte of it changes.
 */
export function openCopy(file: string, options: { readonly: boolean }): Sqlite {
  const sqlite = new Database(file, { readonly: options.readonly, fileMustExist: true });
  checkVersion(sqlite);
  if (!options.readonly) sqlite.pragma('journal_mode = DELETE');
  sqlite.pragma('synchronous = FULL');
  sqlite.pragma('trusted_schema = OFF');
  return sqlite;
}
