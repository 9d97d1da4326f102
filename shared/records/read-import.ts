import {
  type BookedCulture,
  bookCultures,
  type CultureBook,
  type KnownCulture,
  speciesKeys,
} from './culture-book.ts';
import type { Prints } from './entries.ts';
import { compareWithRecords, finishFounding, retire } from './founding.ts';
import { RecordsError } from './limits.ts';
import { checkLineage, knownTwin, readOrigins, spreadFaults } from './lineage-checks.ts';
import type { SettledCulturesMapping, SettledDiaryMapping } from './mapping.ts';
import { type ImportFile, isReadable, type OpenedFile, openFile } from './open-file.ts';
import { type CultureDraft, readCultures } from './read-cultures.ts';
import { type DiaryDraft, readDiary } from './read-diary.ts';
import { reconcileSplits, splitsFromFoundings } from './reconcile-splits.ts';
import type { ImportReading } from './result.ts';
import { settleSameRows } from './same-rows.ts';
import { checkStock } from './stock-bound.ts';
import { sumUp } from './sum-up.ts';

export interface ImportSetting {
  /** Today in the business's time zone, YYYY-MM-DD. */
  today: string;
  /** The cultures of the records. */
  known?: readonly KnownCulture[];
  /** Names that mean the same species, the scientific one first. */
  synonyms?: readonly (readonly string[])[];
  /** Whether the records hold a row already, by its prints. */
  isThere?: (prints: Prints) => boolean;
}

/**
 * Reads a breeder's own files, one of cultures, one diary, or both, against what the records hold: typed rows ready
 * to be written, every faulty row with every reason, and everything else that is not brought in. It decides
 * nothing for the person: as long as a question is open or a faulty row undecided, `ready` is false.
 *
 * Throws a RecordsError where a file cannot be read at all, never anything else.
 *
 * @example readImport([{ name: 'diary.csv', bytes }], { today: '2026-11-25', known })
 */
export function readImport(files: readonly ImportFile[], setting: ImportSetting): ImportReading {
  const opened = openFiles(files);
  const culturesFile = opened.find((file) => file.kind === 'cultures');
  const diaryFile = opened.find((file) => file.kind === 'diary');
  const speciesKey = speciesKeys([
    ...(setting.synonyms ?? []),
    ...(setting.known ?? []).map((culture) => culture.speciesNames),
  ]);
  const records = bookCultures((setting.known ?? []).map(bookKnown));

  const mapping = culturesFile?.settling.mapping as SettledCulturesMapping | undefined;
  const all =
    culturesFile && mapping && isReadable(culturesFile)
      ? readCultures(culturesFile.table, mapping, setting.today)
      : [];
  const known = setApartKnown(all, records);
  const drafts = all.filter((draft) => !known.has(draft));
  const book = bookCultures([...records.byCode.values(), ...drafts.flatMap(bookDraft)]);
  if (mapping) readOrigins(all, mapping, book);
  for (const [draft, culture] of known) compareWithRecords(draft, culture, speciesKey);

  const diary = diaryFile ? readDiaryRows(diaryFile, book, setting.today) : [];
  const noteColumn = diaryFile
    ? ((diaryFile.settling.mapping as SettledDiaryMapping).columns.note ?? null)
    : null;
  const { known: knownRows, notices, matched } = reconcileSplits(drafts, diary, book, noteColumn);
  const knownSplits = setApartKnownSplits(knownRows);

  if (mapping) {
    for (const draft of drafts) finishFounding(draft, mapping);
    checkLineage(drafts, mapping, book, speciesKey);
    spreadFaults(drafts, mapping.columns.origin ?? null);
  }
  spreadToDiary(diary, drafts);
  retire(drafts, diary);
  const accepted = drafts.filter((draft) => draft.findings.faults.length === 0);
  return sumUp(opened, {
    cultures: culturesFile ? { file: culturesFile, drafts: all, known } : null,
    diary: diaryFile ? { file: diaryFile, drafts: diary, knownSplits } : null,
    foundingSplits: splitsFromFoundings(accepted, matched),
    splits: {
      fromBoth: [...matched]
        .filter(([draft]) => draft.findings.faults.length === 0)
        .reduce((n, [, set]) => n + set.size, 0),
      known: knownRows.length,
    },
    notices,
    speciesKey,
    isThere: setting.isThere ?? (() => false),
  });
}

/** Opens the files of one import, at most one of each kind. Throws a RecordsError where they cannot be read so. */
export function openFiles(files: readonly ImportFile[]): OpenedFile[] {
  const opened = files.map(openFile);
  const [first, second] = opened;
  if (!first || !second || first.kind !== second.kind) return opened;
  const what = first.kind === 'cultures' ? 'a list of cultures' : 'a diary';
  throw new RecordsError(
    'two-of-a-kind',
    `Both files are taken for ${what}. Bring them in one after the other, or say what each is.`,
  );
}

function bookKnown(known: KnownCulture): BookedCulture {
  return { ...known, known, line: null };
}

function bookDraft(draft: CultureDraft): BookedCulture[] {
  if (draft.code === null || draft.findings.faults.some((fault) => fault.kind === 'duplicate-code'))
    return [];
  const { code, foundedOn, foundingAnimals, lineName } = draft;
  const speciesNames = [draft.species, draft.commonName ?? ''].filter((name) => name !== '');
  return [
    {
      code,
      speciesNames,
      lineName,
      foundedOn,
      foundingAnimals,
      known: null,
      line: draft.row.line,
      largest: null,
    },
  ];
}

/** Rows of cultures that the records hold already: they are compared, not brought in again. */
function setApartKnown(drafts: CultureDraft[], records: CultureBook): Map<CultureDraft, KnownCulture> {
  const known = new Map<CultureDraft, KnownCulture>();
  for (const draft of drafts) {
    const culture = draft.code === null ? null : knownTwin(draft.code, records)?.known;
    if (culture) known.set(draft, culture);
  }
  return known;
}

function readDiaryRows(file: OpenedFile, book: CultureBook, today: string): DiaryDraft[] {
  if (!isReadable(file)) return [];
  const mapping = file.settling.mapping as SettledDiaryMapping;
  const drafts = readDiary(file.table, mapping, book, today);
  settleSameRows(drafts, mapping.sameRows);
  checkStock(drafts, book, mapping.largestColony, mapping.columns.number ?? null);
  return drafts;
}

/** Takes known splits out of what their rows tell; a row that tells nothing else is in the records already. */
function setApartKnownSplits(rows: ReturnType<typeof reconcileSplits>['known']): Map<DiaryDraft, string> {
  const whole = new Map<DiaryDraft, string>();
  for (const { draft, entry, reason } of rows) {
    draft.told = draft.told.filter((told) => told.entry !== entry);
    if (draft.told.length === 0) whole.set(draft, reason);
  }
  return whole;
}

function spreadToDiary(diary: readonly DiaryDraft[], cultures: readonly CultureDraft[]): void {
  const faulty = new Map<string, CultureDraft>();
  for (const draft of cultures) {
    const doubled = draft.findings.faults.some((fault) => fault.kind === 'duplicate-code');
    if (draft.code !== null && draft.findings.faults.length > 0 && !doubled) faulty.set(draft.code, draft);
  }
  for (const draft of diary) {
    const codes = draft.told.flatMap(({ entry }) => (entry?.kind === 'split' ? [entry.childCode] : []));
    for (const code of new Set([draft.code ?? '', ...codes])) {
      const culture = faulty.get(code);
      if (!culture) continue;
      draft.findings.fault(
        'culture-faulty',
        `${code}, line ${culture.row.line} of the cultures, has faults.`,
      );
    }
  }
}
