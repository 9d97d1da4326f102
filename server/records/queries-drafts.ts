import { randomUUID } from 'node:crypto';
import { and, asc, eq, inArray, lt, sql } from 'drizzle-orm';
import type { Mapping } from '../../shared/records/mapping.ts';
import type { ImportFile } from '../../shared/records/open-file.ts';
import { type StockChoices, stockChoices } from '../../shared/records/stock-choices.ts';
import type { Db } from '../plumbing/open-database.ts';
import { importDrafts, importUploads } from '../schema/tables.ts';

/** Files that were uploaded together, with what was said about them so far. */
export type Upload = {
  id: string;
  /** Changes with everything that is said. */
  version: number;
  choices: StockChoices;
  files: { draftId: string; name: string; bytes: Uint8Array; mapping: Mapping | null }[];
};

/** Takes away uploaded files that nobody went on with; returns how many went. */
export function forgetDrafts(db: Db, before: number): number {
  return db.transaction((tx) => {
    const gone = tx.delete(importDrafts).where(lt(importDrafts.madeAt, before)).run().changes;
    tx.delete(importUploads)
      .where(
        sql`${importUploads.id} NOT IN (SELECT upload_id FROM import_drafts WHERE upload_id IS NOT NULL)`,
      )
      .run();
    return gone;
  });
}

/** Who does it, and when. */
export type By<Who extends string | null = string | null> = { personId: Who; now: number };

export function insertUpload(
  tx: Db,
  files: readonly ImportFile[],
  choices: StockChoices,
  { personId, now }: By<string>,
): string {
  const id = randomUUID();
  const made = { madeBy: personId, madeAt: now };
  tx.insert(importUploads)
    .values({ id, choices: JSON.stringify(choices), version: 1, ...made })
    .run();
  for (const [position, { name, bytes, mapping }] of files.entries()) {
    const draft = { id: randomUUID(), uploadId: id, position, fileName: name, bytes: Buffer.from(bytes) };
    tx.insert(importDrafts)
      .values({ ...draft, mapping: mapping ? JSON.stringify(mapping) : null, ...made })
      .run();
  }
  return id;
}

/** Somebody's own upload; that of another person is not there. */
export function readUpload(db: Db, id: string, personId: string): Upload | null {
  const own = and(eq(importUploads.id, id), eq(importUploads.madeBy, personId));
  const upload = db.select().from(importUploads).where(own).get();
  if (!upload) return null;
  const files = db
    .select()
    .from(importDrafts)
    .where(eq(importDrafts.uploadId, id))
    .orderBy(asc(importDrafts.position))
    .all();
  return {
    id,
    version: upload.version,
    choices: stockChoices.parse(JSON.parse(upload.choices)),
    // What was checked when it was said is not checked again: it may be as long as the file.
    files: files.map((draft) => ({
      draftId: draft.id,
      name: draft.fileName,
      bytes: new Uint8Array(draft.bytes),
      mapping: draft.mapping === null ? null : (JSON.parse(draft.mapping) as Mapping),
    })),
  };
}

/** Somebody's uploads that were not brought in yet, the newest first. */
export function listUploads(db: Db, personId: string) {
  return db
    .select({
      id: importUploads.id,
      madeAt: importUploads.madeAt,
      names: sql<string>`(SELECT group_concat(file_name, ', ') FROM (SELECT file_name FROM import_drafts
        WHERE import_drafts.upload_id = import_uploads.id ORDER BY position))`,
    })
    .from(importUploads)
    .where(eq(importUploads.madeBy, personId))
    .orderBy(sql`${importUploads.madeAt} DESC`)
    .limit(20)
    .all();
}

export type Said = { mappings?: (Mapping | null)[]; choices?: StockChoices };

/** Keeps what was said about an upload; false where somebody said something else meanwhile. */
export function saveSaid(tx: Db, upload: Pick<Upload, 'id' | 'version' | 'files'>, said: Said): boolean {
  const mine = and(eq(importUploads.id, upload.id), eq(importUploads.version, upload.version));
  const choices = said.choices ? { choices: JSON.stringify(said.choices) } : {};
  const changed = tx
    .update(importUploads)
    .set({ version: upload.version + 1, ...choices })
    .where(mine)
    .run();
  if (changed.changes !== 1) return false;
  for (const [position, mapping] of (said.mappings ?? []).entries()) {
    const draftId = upload.files[position]?.draftId;
    if (draftId === undefined) continue;
    tx.update(importDrafts)
      .set({ mapping: mapping ? JSON.stringify(mapping) : null })
      .where(eq(importDrafts.id, draftId))
      .run();
  }
  return true;
}

export function deleteUpload(tx: Db, upload: Pick<Upload, 'id' | 'files'>): void {
  const ids = upload.files.map((file) => file.draftId);
  tx.delete(importDrafts).where(inArray(importDrafts.id, ids)).run();
  tx.delete(importUploads).where(eq(importUploads.id, upload.id)).run();
}
