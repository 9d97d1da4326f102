import type { CultureRow, DiaryRow, FileKind, SplitEntry } from './entries.ts';
import { type FaultKind, faultKinds } from './faults.ts';
import type { Findings } from './findings.ts';
import { type Notice, type NoticeKind, noticeKinds } from './notices.ts';
import type { OpenedFile } from './open-file.ts';
import { cultureContent, diaryContent, numbered, Occurrences } from './prints.ts';
import type { CultureDraft } from './read-cultures.ts';
import type { DiaryDraft } from './read-diary.ts';
import type { FaultyKind, FaultyRow, FileReading, ImportReading, NoticeGroup, OtherRow } from './result.ts';
import { summarise } from './summary.ts';
import { rawRow, type TableRow } from './table.ts';
import { wordUses } from './word-uses.ts';
import type { Workings } from './workings.ts';

const SHOWN_LINES = 20;
const SAMPLE_ROWS = 8;

/** Sorts every row into accepted, faulty, left out or already there, and says so in numbers. */
export function sumUp(opened: readonly OpenedFile[], workings: Workings): ImportReading {
  const sorting = new Sorting();
  const cultures: CultureRow[] = [];
  const diary: DiaryRow[] = [];
  const { notices } = workings;
  const occurrences = new Occurrences();
  for (const draft of workings.cultures?.drafts ?? []) {
    const known = workings.cultures!.known.get(draft);
    collect(notices, 'cultures', draft);
    const row = isWhole(draft) ? cultureRow(draft, occurrences) : null;
    const there = known
      ? `${known.code} is in the records.`
      : row && workings.isThere(row.prints)
        ? `${row.code} was brought in before.`
        : null;
    if (sorting.takes(workings.cultures!.file, draft, null, there) && row) cultures.push(row);
  }
  for (const draft of workings.diary?.drafts ?? []) {
    // A row that tells several things comes in with those that are not there yet.
    const told = isWhole(draft) && draft.leftOut === null ? diaryRows(draft, occurrences) : [];
    const fresh = told.filter((row) => !workings.isThere(row.prints));
    const brought = told.length > 0 && fresh.length === 0 ? 'It was brought in before.' : null;
    if (brought === null) collect(notices, 'diary', draft);
    const there = workings.diary!.knownSplits.get(draft) ?? brought;
    if (sorting.takes(workings.diary!.file, draft, draft.leftOut, there)) diary.push(...fresh);
  }
  const fromFounding = workings.foundingSplits
    .map((split) => foundingRow(split, occurrences))
    .filter((row) => !workings.isThere(row.prints));
  for (const { line, entry } of fromFounding) {
    const { childCode, animals } = entry as SplitEntry;
    const message = `${animals} animals leave the parent for ${childCode}, as its founding tells.`;
    notices.push({ kind: 'split-from-founding', file: 'cultures', line, message });
  }
  diary.push(...fromFounding);
  diary.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  for (const file of opened) {
    for (const row of file.table.above) sorting.leaveOut(file, row, 'It stands above the header.');
    for (const line of file.table.mendsNotUsed) {
      const message = `The mend for line ${line} was made for another row and is not used.`;
      notices.push({ kind: 'mend-not-used', file: file.kind, line, message });
    }
  }
  const summary = summarise(cultures, diary, workings, notices);
  const files = opened.map((file) => fileReading(file, sorting, workings));
  const questions = files.some((file) => file.questions.length > 0);
  return {
    files,
    cultures: inFoundingOrder(cultures),
    diary,
    faulty: sorting.faulty,
    faultyKinds: sorting.faultyKinds(),
    leftOut: sorting.leftOut,
    alreadyThere: sorting.alreadyThere,
    notices,
    noticeGroups: groupNotices(notices),
    summary,
    ready: !questions && sorting.faulty.length === 0,
  };
}

/** Puts each row in its place and counts it there. */
class Sorting {
  readonly faulty: FaultyRow[] = [];
  readonly leftOut: OtherRow[] = [];
  readonly alreadyThere: OtherRow[] = [];
  private readonly kinds = new Map<string, FaultyKind>();
  private readonly accepted = new Map<FileKind, number>();

  /** Whether the row is accepted; otherwise it is sorted in here. */
  takes(
    file: OpenedFile,
    draft: { row: TableRow; findings: Findings },
    leftOut: string | null,
    there: string | null,
  ): boolean {
    const { faults } = draft.findings;
    // What is left out by its word need not be right.
    if (faults.length > 0 && leftOut === null) {
      const chosen = new Set<FaultKind>(file.settling.mapping.leaveOut);
      for (const kind of new Set(faults.map((fault) => fault.kind)))
        this.count(kind, file.kind, draft.row.line, chosen.has(kind));
      const knowingly = faults.find((fault) => chosen.has(fault.kind));
      if (knowingly) this.leaveOut(file, draft.row, faults.map((fault) => fault.reason).join(' '));
      else this.faulty.push({ ...this.shown(file, draft.row), reasons: faults });
      return false;
    }
    if (leftOut !== null) this.leaveOut(file, draft.row, leftOut);
    else if (there !== null) this.alreadyThere.push({ ...this.shown(file, draft.row), why: there });
    else this.accepted.set(file.kind, this.acceptedOf(file.kind) + 1);
    return leftOut === null && there === null;
  }

  leaveOut(file: OpenedFile, row: TableRow, why: string): void {
    this.leftOut.push({ ...this.shown(file, row), why });
  }

  acceptedOf(kind: FileKind): number {
    return this.accepted.get(kind) ?? 0;
  }

  /** The largest first, and after all others what is mended with another row. */
  faultyKinds(): FaultyKind[] {
    const follows = ({ kind }: FaultyKind) => Number(kind === 'culture-faulty' || kind === 'parent-faulty');
    return [...this.kinds.values()].sort((a, b) => follows(a) - follows(b) || b.rows - a.rows);
  }

  private count(kind: FaultKind, file: FileKind, line: number, leftOut: boolean): void {
    const key = `${file} ${kind}`;
    const [title, mend] = faultKinds[kind];
    const group = this.kinds.get(key) ?? { kind, file, title, mend, rows: 0, lines: [], leftOut };
    group.rows += 1;
    if (group.lines.length < SHOWN_LINES) group.lines.push(line);
    this.kinds.set(key, group);
  }

  private shown(file: OpenedFile, row: TableRow): Omit<OtherRow, 'why'> {
    return {
      file: file.kind,
      line: row.line,
      raw: rawRow(row.cells, file.table.delimiter),
      cells: row.cells,
    };
  }
}

function fileReading(file: OpenedFile, sorting: Sorting, workings: Workings): FileReading {
  const { mapping, guesses, questions } = file.settling;
  const below = new Set(file.table.rows.map((row) => row.line));
  const of = (rows: readonly OtherRow[]) =>
    rows.filter((row) => row.file === file.kind && below.has(row.line)).length;
  const used = new Set<string | null>([...Object.values(mapping.columns), ...mapping.keepInNote]);
  if (mapping.kind === 'diary') {
    const out = new Set(mapping.words.filter((word) => word.means === 'leave out').map((word) => word.word));
    for (const label of mapping.entryColumns) if (!out.has(label.toLowerCase())) used.add(label);
  }
  const columnsLeftOut = file.facts
    .filter((column) => column.filled > 0 && !used.has(column.label))
    .map(({ label, filled }) => ({ label, filled }));
  return {
    name: file.name,
    kind: file.kind,
    kindScore: file.kindScore,
    ...file.decoded,
    labels: file.table.labels,
    guesses,
    mapping,
    questions,
    words: wordUses(file, workings),
    columnsLeftOut,
    sample: file.table.rows.slice(0, SAMPLE_ROWS).map(({ line, cells }) => ({ line, cells })),
    counts: {
      rows: file.table.rows.length,
      accepted: sorting.acceptedOf(file.kind),
      faulty: sorting.faulty.filter((row) => row.file === file.kind).length,
      leftOut: of(sorting.leftOut),
      alreadyThere: of(sorting.alreadyThere),
      blank: file.table.blankRows,
    },
  };
}

const isWhole = (draft: { findings: Findings }) => draft.findings.faults.length === 0;

function cultureRow(draft: CultureDraft, occurrences: Occurrences): CultureRow {
  const { row, findings: _, code, foundedOn, foundingAnimals, originText: __, parents, ...rest } = draft;
  const content = cultureContent({ code: code! });
  return {
    ...rest,
    line: row.line,
    code: code!,
    foundedOn: foundedOn!,
    foundingAnimals: foundingAnimals!,
    parents: parents.map((parent) => ({ code: parent.code, animals: parent.animals! })),
    prints: numbered(content, content, occurrences),
  };
}

function diaryRows(draft: DiaryDraft, occurrences: Occurrences): DiaryRow[] {
  const { on, code, by } = draft as DiaryDraft & { on: string; code: string };
  return draft.told.flatMap(({ entry, source }) => {
    if (!entry) return [];
    const content = diaryContent({ code, on, by, entry });
    const prints = numbered(content, JSON.stringify([on, code, by, source]), occurrences);
    return [{ file: 'diary' as const, line: draft.row.line, on, code, by, entry, prints }];
  });
}

function foundingRow(split: Workings['foundingSplits'][number], occurrences: Occurrences): DiaryRow {
  const { draft, parent, animals } = split;
  const [on, childCode] = [draft.foundedOn!, draft.code!];
  const entry: SplitEntry = {
    kind: 'split',
    animals,
    adults: null,
    juveniles: null,
    childCode,
    seedingMl: null,
    note: '',
  };
  const content = diaryContent({ code: parent, on, by: null, entry });
  const prints = numbered(content, JSON.stringify(['founding', parent, childCode]), occurrences);
  return { file: 'cultures', line: draft.row.line, on, code: parent, by: null, entry, prints };
}

function inFoundingOrder(cultures: readonly CultureRow[]): CultureRow[] {
  const byCode = new Map(cultures.map((culture) => [culture.code, culture]));
  const done = new Set<CultureRow>();
  for (const culture of cultures) {
    const path = [culture];
    // Parents first, without recursion: a lineage may be as long as the file.
    for (let next = path.at(-1); next; next = path.at(-1)) {
      const parent = next.parents
        .map(({ code }) => byCode.get(code))
        .find((candidate) => candidate && !done.has(candidate));
      if (parent) path.push(parent);
      else done.add(path.pop()!);
    }
  }
  return [...done];
}

function collect(notices: Notice[], file: FileKind, draft: { row: TableRow; findings: Findings }): void {
  for (const { kind, message } of draft.findings.notices)
    notices.push({ kind, file, line: draft.row.line, message });
}

function groupNotices(notices: readonly Notice[]): NoticeGroup[] {
  const groups = new Map<string, NoticeGroup>();
  for (const { kind, file, line } of notices) {
    const key = `${file} ${kind}`;
    const group = groups.get(key) ?? { kind, file, title: noticeKinds[kind], rows: 0, lines: [] };
    group.rows += 1;
    if (line !== null && group.lines.length < SHOWN_LINES) group.lines.push(line);
    groups.set(key, group);
  }
  const order = Object.keys(noticeKinds) as NoticeKind[];
  return [...groups.values()].sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind));
}
