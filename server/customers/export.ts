import { getTableColumns } from 'drizzle-orm';
import { csvLines } from '../../shared/records/export.ts';
import type { Db } from '../plumbing/open-database.ts';
import { sheetOf } from '../records/queries-export.ts';
import { type Belongings, belongingsOf } from './queries-belongings.ts';
import { type PersonalTable, personalTables } from './queries-personal.ts';
import { type ZipEntry, zipOf } from './zip.ts';

type Row = Record<string, unknown>;

/** A table's own columns, without secrets and pictures. */
function rowsOf(db: Db, one: PersonalTable, own: Belongings): Row[] {
  const columns = { ...getTableColumns(one.table) };
  for (const [name, fate] of Object.entries(one.columns)) if (fate === 'secret') delete columns[name];
  return db.select(columns).from(one.table).where(one.rows(own)).all() as Row[];
}

const isPicture = (value: unknown): value is Buffer => Buffer.isBuffer(value);

/**
 * All that is kept of one customer, as one archive: `customer.json` with every table, a CSV file for each table that has
 * rows, and the photos they sent. Instants in the JSON are milliseconds since 1970 UTC, amounts whole minor units.
 */
export function exportCustomer(db: Db, customerId: number, now: number): Buffer {
  const own = belongingsOf(db, customerId);
  const tables: Record<string, Row[]> = {};
  const files: ZipEntry[] = [];
  for (const one of personalTables) {
    const rows = rowsOf(db, one, own);
    const pictures = rows.filter((row) => Object.values(row).some(isPicture));
    for (const row of pictures) {
      const bytes = Object.values(row).find(isPicture);
      if (bytes) files.push({ name: `photos/arrival-photo-${row.photoId}.jpg`, bytes });
    }
    if (pictures.length > 0) continue;
    tables[one.name] = rows;
    const names = Object.keys(rows[0] ?? {});
    if (rows.length === 0) continue;
    const { header, rows: cells } = sheetOf(rows, names);
    const text = `\uFEFF${[...csvLines(header, cells)].join('')}`;
    files.push({ name: `${one.name}.csv`, bytes: Buffer.from(text) });
  }
  const json = `${JSON.stringify({ madeAt: now, customer: customerId, tables }, null, 1)}\n`;
  return zipOf([{ name: 'customer.json', bytes: Buffer.from(json) }, ...files], now);
}
