import { daysBetween } from '../days.ts';
import type { CultureBook } from './culture-book.ts';
import type { SplitEntry } from './entries.ts';
import type { Notice } from './notices.ts';
import type { CultureDraft } from './read-cultures.ts';
import type { DiaryDraft } from './read-diary.ts';

/** A split that only the founding of the new culture tells: the animals leave the parent all the same. */
export interface SplitFromFounding {
  draft: CultureDraft;
  parent: string;
  animals: number;
}

/** A split row of a diary whose new culture the records know as founded from the same parent. */
export interface SplitKnown {
  draft: DiaryDraft;
  entry: SplitEntry;
  reason: string;
}

interface SplitRow {
  draft: DiaryDraft;
  entry: SplitEntry;
}

/**
 * A split is told twice: by the founding of the new culture (whence, when, how many) and by the row in the parent's
 * diary. Both are one event, and its animals leave the parent once:
 * - the row and the founding are matched by parent and child; of several rows the one nearest in time and number
 *   is the founding, each further one is a fault, because a culture is founded once;
 * - each keeps what it tells of its own culture: the row's day and number leave the parent, the founding's day and
 *   number start the child. Where they differ, both are told in a notice;
 * - what only one of them tells, the other takes over: the number, and the parent where the founding has none;
 * - another parent than the founding names is a fault of the row;
 * - a founding without a row gets its split from `splitsFromFoundings`.
 * A child that is in the records already has had its split: the row is answered as known.
 */
export function reconcileSplits(
  cultures: readonly CultureDraft[],
  diary: readonly DiaryDraft[],
  book: CultureBook,
  column: string | null,
): { known: SplitKnown[]; notices: Notice[]; matched: Map<CultureDraft, Set<string>> } {
  const byCode = new Map(
    cultures.flatMap((draft) => (draft.code === null ? [] : [[draft.code, draft] as const])),
  );
  const known: SplitKnown[] = [];
  const notices: Notice[] = [];
  const matched = new Map<CultureDraft, Set<string>>();
  for (const rows of splitRowsByPair(diary).values()) {
    const { entry, draft } = rows[0]!;
    const booked = book.byCode.get(entry.childCode);
    if (booked?.known) {
      const told = booked.known.parents.find((parent) => parent.code === draft.code);
      if (!told) {
        for (const row of rows)
          refuseParent(
            row,
            booked.known.parents.map((parent) => parent.code),
            'records',
            column,
          );
        continue;
      }
      const first = nearest(rows, booked.known.foundedOn, told.animals);
      compare(first, booked.known.foundedOn, told.animals, notices);
      known.push({ ...first, reason: `${entry.childCode} is in the records as split from ${draft.code}.` });
      refuseRepeats(rows, first, column);
      continue;
    }
    const child = byCode.get(entry.childCode);
    if (!child) continue;
    if (child.origin === 'wild' || child.origin === 'bought') {
      for (const row of rows) refuseParent(row, [], child.origin, column);
      continue;
    }
    if (child.origin === 'split' && !child.parents.some((parent) => parent.code === draft.code)) {
      for (const row of rows)
        refuseParent(
          row,
          child.parents.map((parent) => parent.code),
          'file of cultures',
          column,
        );
      continue;
    }
    const first = nearest(rows, child.foundedOn, child.foundingAnimals);
    refuseRepeats(rows, first, column);
    adopt(child, first);
    matched.set(child, (matched.get(child) ?? new Set()).add(draft.code!));
    if (child.foundedOn !== null) compare(first, child.foundedOn, null, notices);
  }
  return { known, notices, matched };
}

/** The splits that no diary row tells, with founding animals shared out evenly where several parents gave them. */
export function splitsFromFoundings(
  cultures: readonly CultureDraft[],
  matched: ReadonlyMap<CultureDraft, ReadonlySet<string>>,
): SplitFromFounding[] {
  return cultures.flatMap((draft) =>
    draft.parents
      .filter((parent) => !matched.get(draft)?.has(parent.code))
      .map((parent) => ({ draft, parent: parent.code, animals: parent.animals ?? 0 }))
      .filter((split) => split.animals > 0),
  );
}

/** Gives every parent its share of the founding animals, and tells where the splits add up to another number. */
export function shareOutFounders(draft: CultureDraft): void {
  if (draft.parents.length === 0 || draft.foundingAnimals === null) return;
  const told = draft.parents.reduce((sum, parent) => sum + (parent.animals ?? 0), 0);
  const open = draft.parents.filter((parent) => parent.animals === null);
  const rest = Math.max(draft.foundingAnimals - told, open.length);
  for (const [at, parent] of open.entries()) {
    parent.animals = Math.floor(rest / open.length) + (at < rest % open.length ? 1 : 0);
  }
  if (open.length > 1) {
    const shares = open.map((parent) => `${parent.code} ${parent.animals}`).join(', ');
    draft.findings.notice(
      'animals-shared-out',
      `Nobody tells how many came from each parent: taken as ${shares}.`,
    );
  }
  const sum = draft.parents.reduce((total, parent) => total + parent.animals!, 0);
  if (sum !== draft.foundingAnimals) {
    const message = `${draft.code} was founded with ${draft.foundingAnimals} animals; its splits tell ${sum}.`;
    draft.findings.notice('split-number-differs', message);
  }
}

function splitRowsByPair(diary: readonly DiaryDraft[]): Map<string, SplitRow[]> {
  const pairs = new Map<string, SplitRow[]>();
  for (const draft of diary) {
    if (draft.findings.faults.length > 0 || draft.leftOut !== null || draft.code === null) continue;
    for (const { entry } of draft.told) {
      if (entry?.kind !== 'split') continue;
      const pair = JSON.stringify([draft.code, entry.childCode]);
      const rows = pairs.get(pair);
      if (rows) rows.push({ draft, entry });
      else pairs.set(pair, [{ draft, entry }]);
    }
  }
  return pairs;
}

function nearest(rows: readonly SplitRow[], foundedOn: string | null, animals: number | null): SplitRow {
  const distance = (row: SplitRow) =>
    (foundedOn === null ? 0 : Math.abs(daysBetween(foundedOn, row.draft.on!))) +
    (animals === null || animals === row.entry.animals ? 0 : 0.5);
  return rows.reduce((best, row) => (distance(row) < distance(best) ? row : best));
}

function adopt(child: CultureDraft, { draft, entry }: SplitRow): void {
  if (child.origin === 'unknown') {
    child.origin = 'split';
    child.findings.notice(
      'parent-from-split',
      `The parent ${draft.code} is taken from the split on ${draft.on}.`,
    );
  }
  const parent = child.parents.find(({ code }) => code === draft.code);
  if (parent) parent.animals = entry.animals;
  else child.parents.push({ code: draft.code!, animals: entry.animals });
}

function compare(row: SplitRow, foundedOn: string, animals: number | null, notices: Notice[]): void {
  const { draft, entry } = row;
  const at = { file: 'diary' as const, line: draft.row.line };
  if (draft.on !== foundedOn) {
    const message = `Split on ${draft.on}, but ${entry.childCode} was founded on ${foundedOn}. Each keeps its day.`;
    notices.push({ kind: 'split-date-differs', ...at, message });
  }
  if (animals !== null && animals !== entry.animals) {
    const message = `The split tells ${entry.animals} animals, the records of ${entry.childCode} ${animals}.`;
    notices.push({ kind: 'split-number-differs', ...at, message });
  }
}

function refuseRepeats(rows: readonly SplitRow[], first: SplitRow, column: string | null): void {
  for (const { draft, entry } of rows) {
    if (draft === first.draft) continue;
    const reason = `${entry.childCode} was founded by the split on line ${first.draft.row.line} already.`;
    draft.findings.fault('split-twice', reason, column);
  }
}

function refuseParent(row: SplitRow, parents: readonly string[], where: string, column: string | null): void {
  const { draft, entry } = row;
  const told = parents.length > 0 ? `comes from ${parents.join(', ')}` : 'does not come from another culture';
  const by = where === 'records' || where === 'file of cultures' ? ` in the ${where}` : `: it is ${where}`;
  draft.findings.fault('split-parent-differs', `${entry.childCode} ${told}${by}.`, column);
}
