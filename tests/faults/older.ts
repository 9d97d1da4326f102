import { copyFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { migrate, migrationsFolder, readMigrations } from '../../server/plumbing/migrate.ts';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { databaseName } from '../../shared/backups/manifest.ts';
import { fillings } from '../architecture/filled.ts';
import { freshFolder } from '../backups/shelf.ts';

const all = readMigrations();

/** A folder with the migrations up to a number, and others that a test adds. */
export function migrationsUpTo(number: number, others: Record<string, string> = {}): string {
  const folder = freshFolder();
  for (const { name } of all.slice(0, number)) copyFileSync(join(migrationsFolder, name), join(folder, name));
  for (const [name, sql] of Object.entries(others)) writeFileSync(join(folder, name), sql);
  return folder;
}

/** A data folder as a program of an earlier schema left it, with something in every table. */
export function folderAt(number: number, dir = freshFolder()): string {
  const { sqlite } = openDatabase(join(dir, databaseName));
  const folder = migrationsUpTo(0);
  for (const { name, number: step } of all.slice(0, number)) {
    copyFileSync(join(migrationsFolder, name), join(folder, name));
    if (step < number && fillings[step] === undefined) continue;
    migrate(sqlite, 1000, { folder });
    sqlite.exec(fillings[step] ?? '');
  }
  sqlite.close();
  return dir;
}
