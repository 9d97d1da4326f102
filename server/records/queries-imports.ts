import { and, asc, desc, eq, isNull, or, sql } from 'drizzle-orm';
import type { FileKind } from '../../shared/records/entries.ts';
import type { FileReading, OtherRow } from '../../shared/records/result.ts';
import type { Db } from '../plumbing/open-database.ts';
import { imports, people } from '../schema/tables.ts';
import type { By } from './queries-drafts.ts';

/** The rows of a file that were left out knowingly, as they stood in it. */
export type LeftOut = { labels: string[]; rows: Omit<OtherRow, 'file'>[] };

export function insertImport(
  tx: Db,
  o: { file: FileReading; leftOut: readonly OtherRow[]; by: By; firstId: number | null },
): number {
  const { file, by } = o;
  const leftOut: LeftOut = {
    labels: file.labels,
    rows: o.leftOut.map(({ file: _file, ...row }) => row),
  };
  return tx
    .insert(imports)
    .values({
      kind: file.kind,
      fileName: file.name,
      state: 'done',
      mapping: JSON.stringify(file.mapping),
      broughtIn: file.counts.accepted,
      alreadyThere: file.counts.alreadyThere,
      leftOut: JSON.stringify(leftOut),
      madeBy: by.personId,
      madeAt: by.now,
      firstId: o.firstId,
    })
    .returning({ id: imports.id })
    .get().id;
}

/** Without the rows that were left out and the mapping: both may be as long as the file. */
const columns = {
  id: imports.id,
  kind: imports.kind,
  fileName: imports.fileName,
  state: imports.state,
  broughtIn: imports.broughtIn,
  alreadyThere: imports.alreadyThere,
  madeAt: imports.madeAt,
  undoneAt: imports.undoneAt,
  firstId: imports.firstId,
  leftOutRows: sql<number>`coalesce(json_array_length(${imports.leftOut}, '$.rows'), 0)`,
  by: people.name,
};

export type ImportedFile = ReturnType<typeof readGroup>[number];

const files = (db: Db) => db.select(columns).from(imports).leftJoin(people, eq(people.id, imports.madeBy));

/** The files that came in together with an import; nothing where it is none or not the first of its own. */
export function readGroup(db: Db, firstId: number) {
  return files(db)
    .where(or(and(eq(imports.id, firstId), isNull(imports.firstId)), eq(imports.firstId, firstId)))
    .orderBy(asc(imports.id))
    .all();
}

/** All imports, the newest first, each with its files. */
export function listGroups(db: Db): ImportedFile[][] {
  const groups = new Map<number, ImportedFile[]>();
  for (const file of files(db)
    .orderBy(desc(sql`coalesce(${imports.firstId}, ${imports.id})`), asc(imports.id))
    .limit(400)
    .all()) {
    const first = file.firstId ?? file.id;
    groups.set(first, [...(groups.get(first) ?? []), file]);
  }
  return [...groups.values()];
}

export function readLeftOut(
  db: Db,
  firstId: number,
  kind: FileKind,
): { fileName: string; leftOut: LeftOut } | null {
  const row = db
    .select({ fileName: imports.fileName, leftOut: imports.leftOut })
    .from(imports)
    .where(and(sql`coalesce(${imports.firstId}, ${imports.id}) = ${firstId}`, eq(imports.kind, kind)))
    .get();
  if (!row) return null;
  const kept = JSON.parse(row.leftOut) as Partial<LeftOut>;
  return { fileName: row.fileName, leftOut: { labels: kept.labels ?? [], rows: kept.rows ?? [] } };
}
