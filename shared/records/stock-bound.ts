import { daysBetween } from '../days.ts';
import type { CultureBook } from './culture-book.ts';
import type { Entry } from './entries.ts';
import type { DiaryDraft } from './read-diary.ts';

// All bounds are ours and generous on purpose: they catch a slip of the finger, never a good week.
/** No colony grows more than fourfold in a week. */
const MOST_GROWTH_PER_WEEK = 4;
/** Of the animals of a colony at least one in fifty shows. */
const LEAST_SHARE_SEEN = 1 / 50;
/** A full count misses no more than three in four, and a few of the smallest colonies. */
const FULL_COUNT_MISSES = 4;
const A_FEW = 20;

/**
 * Finds rows that take more animals than the culture can possibly have held: starting from twice the founding
 * animals, growing fourfold a week up to what the culture can hold at most, corrected by its counts.
 * Rows that are faulty already are not looked at; a row found here takes nothing.
 */
export function checkStock(
  drafts: readonly DiaryDraft[],
  book: CultureBook,
  largestColony: number,
  numberColumn: string | null,
): void {
  const perCulture = new Map<string, DiaryDraft[]>();
  for (const draft of drafts) {
    if (
      draft.code === null ||
      draft.on === null ||
      draft.findings.faults.length > 0 ||
      draft.leftOut !== null
    )
      continue;
    const list = perCulture.get(draft.code);
    if (list) list.push(draft);
    else perCulture.set(draft.code, [draft]);
  }
  for (const [code, list] of perCulture) {
    const culture = book.byCode.get(code);
    const largest = culture?.largest ?? largestColony;
    const isNew = culture !== undefined && culture.known === null;
    const founded = isNew && culture.foundedOn !== null && culture.foundingAnimals !== null;
    const start = founded ? culture.foundingAnimals! * 2 + A_FEW : largest;
    list.sort((a, b) => (a.on! < b.on! ? -1 : a.on! > b.on! ? 1 : a.row.line - b.row.line));
    walk(
      list,
      { most: Math.min(start, largest), on: founded ? culture.foundedOn! : list[0]!.on!, largest },
      numberColumn,
    );
  }
}

interface Bound {
  most: number;
  on: string;
  largest: number;
}

function walk(drafts: readonly DiaryDraft[], bound: Bound, numberColumn: string | null): void {
  for (const draft of drafts) {
    const weeks = Math.max(0, daysBetween(bound.on, draft.on!)) / 7;
    bound.most = Math.min(bound.largest, Math.max(1, bound.most) * MOST_GROWTH_PER_WEEK ** weeks);
    bound.on = draft.on!;
    for (const { entry } of draft.told) {
      if (!entry) continue;
      const taken = takenBy(entry);
      if (taken <= bound.most) {
        bound.most -= taken;
        learnFrom(entry, bound);
        continue;
      }
      const most = Math.floor(bound.most);
      const reason = `${taken} animals were taken on ${draft.on}; ${draft.code} cannot have held more than ${most}.`;
      draft.findings.fault('more-than-there', reason, numberColumn);
      break;
    }
  }
}

function takenBy(entry: Entry): number {
  return entry.kind === 'harvest' || entry.kind === 'split' ? entry.animals : 0;
}

function learnFrom(entry: Entry, bound: Bound): void {
  if (entry.kind === 'addition') bound.most += entry.animals;
  if (entry.kind !== 'count') return;
  const { count } = entry;
  if (count.method === 'full') {
    bound.most = count.counted * FULL_COUNT_MISSES + A_FEW;
    bound.largest = Math.max(bound.largest, bound.most);
  }
  if (count.method === 'visible' || count.method === 'sample') {
    const share = count.method === 'visible' ? LEAST_SHARE_SEEN : count.fraction / FULL_COUNT_MISSES;
    // What was seen has been there, whatever was thought to be the most; what it may stand for has that limit.
    bound.most = Math.max(bound.most, Math.min(count.counted / share, bound.largest), count.counted);
  }
}
