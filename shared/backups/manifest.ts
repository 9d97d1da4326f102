import { z } from 'zod';

/** Everything lives in one file: records, photos, and the keys that addresses of orders are signed with. */
export const databaseName = 'broodbench.db';
export const manifestName = 'manifest.json';
/** In the form that `sha256sum --check` of the GNU coreutils reads. */
export const sumsName = 'SHA256SUMS';

const backupReasons = ['nightly', 'asked', 'upgrade'] as const;
export type BackupReason = (typeof backupReasons)[number];

const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const count = z.number().int().min(0);

/** What stands beside the copy of the database: enough to know, years later, what it is and whether it is whole. */
export const manifestSchema = z.strictObject({
  format: z.literal(1),
  /** Instant of the copy, ISO 8601 UTC. */
  madeAt: z.iso.datetime(),
  reason: z.enum(backupReasons),
  appVersion: z.string().min(1).max(40),
  /** Number of the newest migration in the copy. */
  schema: z.number().int().min(1),
  /** A name from outside never becomes a path: only the names of ours are let through. */
  files: z
    .array(z.strictObject({ name: z.literal(databaseName), bytes: z.number().int().min(1), sha256 }))
    .length(1),
  /** Rows in each table. */
  rows: z.record(z.string().regex(/^[a-z][a-z0-9_]*$/), count),
});

export type Manifest = z.infer<typeof manifestSchema>;

/**
 * The name of a backup's folder: when it was made, UTC, and why. Sorted by name is sorted by time.
 *
 * @param madeAtMs instant, milliseconds since 1970 UTC
 * @example backupName(Date.UTC(2026, 10, 25, 1, 30), 'nightly') // '20261125T013000Z-nightly'
 */
export function backupName(madeAtMs: number, reason: BackupReason): string {
  const stamp = new Date(madeAtMs).toISOString().slice(0, 19).replace(/[-:]/g, '');
  return `${stamp}Z-${reason}`;
}

export const isBackupName = (name: string) => /^\d{8}T\d{6}Z-(nightly|asked|upgrade)(-\d{1,2})?$/.test(name);

/**
 * The lines of a file of sums, by file name; null where any line is not exactly one sum and one name.
 *
 * @example readSums('0'.repeat(64) + '  manifest.json\n') // Map { 'manifest.json' => '000...' }
 */
export function readSums(text: string): Map<string, string> | null {
  const sums = new Map<string, string>();
  for (const line of text.split('\n').slice(0, -1)) {
    const [, sum, name] = /^([0-9a-f]{64}) {2}([A-Za-z][A-Za-z0-9.]*)$/.exec(line) ?? [];
    if (sum === undefined || name === undefined || sums.has(name)) return null;
    sums.set(name, sum);
  }
  return text.endsWith('\n') ? sums : null;
}

export const writeSums = (sums: Iterable<readonly [string, string]>) =>
  [...sums].map(([name, sum]) => `${sum}  ${name}\n`).join('');
