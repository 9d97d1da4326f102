import { createHash } from 'node:crypto';
import type { Db, Sqlite } from '../../server/plumbing/open-database.ts';
import { lookAt } from '../../server/records/look.ts';
import { writeImport } from '../../server/records/write-import.ts';
import { type FaultKind, faultKinds } from '../../shared/records/faults.ts';
import type { Mapping } from '../../shared/records/mapping.ts';
import type { StockChoices } from '../../shared/records/stock-choices.ts';
import { tableNames } from '../support/contents.ts';
import { type TestApp, testNow, testToday } from '../support/test-app.ts';
import type { Visitor } from '../support/visitor.ts';
import { bytesOf, sample } from './reading.ts';

export const cultures = [
  'Code,Species,Box,Where,Started,From,Started with,Line',
  'A-1,Porcellio laevis,6 qt tub,Rack 1 / 2,2025-01-10,bought,20,Dusk',
  'A-2,Porcellio laevis,6 qt tub,Rack 1 / 10,2025-06-01,A-1,12,Dusk',
];
export const diary = [
  'Date,Culture,What,Number,Note,By',
  '2025-02-01,A-1,seen,~15,,Kim',
  '2025-06-01,A-1,split,12,to A-2,Kim',
  '2025-07-01,a 2,check,,dry,',
  '2025-07-01,A-2,water,30,,',
];
export const csv = (lines: readonly string[]) => lines.join('\n');
export const file = (name: string, content: string | Uint8Array, mapping?: Mapping) => ({
  name,
  bytes: typeof content === 'string' ? bytesOf(content) : content,
  mapping,
});

type Bring = { choices?: StockChoices; today?: string; personId?: string | null };

/** Reads files and writes them, as the command does. */
export async function bring(db: Db, files: ReturnType<typeof file>[], options: Bring = {}) {
  const { choices = {}, today = testToday, personId = null } = options;
  const look = await lookAt(db, { files, choices, today });
  const done = db.transaction((tx) => writeImport(tx, look, { personId, now: testNow }), {
    behavior: 'immediate',
  });
  return { look, ...done };
}

export const smallFiles = () => [file('cultures.csv', csv(cultures)), file('diary.csv', csv(diary))];

/** The sample set with its six bad rows left out. */
export function sampleFiles() {
  const leaveOut = Object.keys(faultKinds) as FaultKind[];
  return [
    file('cultures.csv', sample('cultures.csv')),
    file('diary.csv', sample('diary.csv'), { version: 1, kind: 'diary', leaveOut }),
  ];
}

export const buffer = (content: string | Uint8Array) => Buffer.from(content as Uint8Array);

/** Sends files by the form of the page; the second answer is the preview. */
export async function upload(
  who: Visitor,
  files: readonly (readonly [name: string, content: string | Uint8Array])[],
) {
  const sent = await who.upload(
    '/records/drafts',
    files.map(([name, content], at) => ({ field: `file${at + 1}`, name, bytes: buffer(content) })),
  );
  return { sent, path: String(sent.headers.location ?? '') };
}

/** The hidden fields of a form of the page that is sent to an address, as its inputs hold them. */
export function hiddenOf(html: string, action: string): Record<string, string> {
  const form = html.split('<form').find((part) => part.includes(`action="${action}"`)) ?? '';
  const fields: Record<string, string> = {};
  for (const [tag] of form.matchAll(/<input[^>]*type="hidden"[^>]*>/g)) {
    const name = /name="([^"]*)"/.exec(tag)?.[1] ?? '';
    const value = /value="([^"]*)"/.exec(tag)?.[1] ?? '';
    if (name !== '_csrf' && name !== 'formKey') fields[name] = value;
  }
  return fields;
}

/** Presses the button of the preview. */
export async function pressBringIn(who: Visitor, path: string, options: { formKey?: string } = {}) {
  const preview = await who.get(path);
  return who.post(`${path}/bring-in`, hiddenOf(preview.text, `${path}/bring-in`), options);
}

/** How many rows each table has, and a hash of them all, but for what only tells that something was done. */
export function stateOf(sqlite: Sqlite): Record<string, string> {
  const told = new Set(['imports', 'audit', 'form_keys', 'sessions', 'migrations']);
  const state: Record<string, string> = {};
  for (const name of tableNames(sqlite)) {
    if (told.has(name)) continue;
    const rows = sqlite.prepare(`SELECT * FROM "${name}"`).all();
    state[name] =
      `${rows.length} ${createHash('sha256').update(JSON.stringify(rows)).digest('hex').slice(0, 16)}`;
  }
  return state;
}

export const count = ({ sqlite }: Pick<TestApp, 'sqlite'>, table: string) =>
  sqlite.prepare(`SELECT count(*) FROM "${table}"`).pluck().get() as number;
