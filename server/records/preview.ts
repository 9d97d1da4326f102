import { h } from 'preact';
import type { CultureRow, DiaryRow } from '../../shared/records/entries.ts';
import { lacksRoom } from '../../shared/records/place-steps.ts';
import { writePlace } from '../../shared/records/places.ts';
import type { FaultyKind, FileReading, ImportReading } from '../../shared/records/result.ts';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import { PreviewPage } from '../../views/records/page-preview.tsx';
import type {
  ColumnUse,
  FaultyGroupView,
  FileView,
  PreviewProps,
  SampleEntry,
} from '../../views/records/preview-data.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { fingerprintOf } from '../plumbing/edits.ts';
import { notFound } from '../plumbing/errors.ts';
import { columnsOf } from './columns-of-entry.ts';
import { type Look, lookAtUpload } from './look.ts';
import { readUpload, type Upload } from './queries-drafts.ts';
import { readStock } from './queries-stock.ts';

/** The upload that the address names; another person's is not there. */
export function uploadIn(call: StaffCall): Upload {
  const upload = readUpload(call.db, call.params.key ?? '', call.who.id);
  if (!upload) throw notFound('upload');
  return upload;
}

export const draftHref = (upload: Pick<Upload, 'id'>) => `/records/drafts/${upload.id}`;

/** What a person has seen before pressing the button: the same again, or they must look again. */
export function seenOf(upload: Upload, { reading, plan }: Look): string {
  return fingerprintOf([upload.version, reading.files.map((file) => file.counts), reading.summary, plan]);
}

const shownRows = 5;
const shownCells = 3;

function columnUse(reading: FileReading, label: string): ColumnUse {
  const { mapping } = reading;
  const role = Object.entries(mapping.columns).find(([, column]) => column === label)?.[0];
  if (role) return role as ColumnUse;
  if (mapping.kind === 'diary' && mapping.entryColumns.includes(label)) return 'entry';
  return mapping.keepInNote.includes(label) ? 'keep' : '';
}

function fileView(reading: FileReading, number: number): FileView {
  const columns = reading.labels.map((label, at) => ({
    label,
    filled: [...new Set(reading.sample.map((row) => row.cells[at] ?? ''))]
      .filter(Boolean)
      .slice(0, shownCells),
    use: columnUse(reading, label),
  }));
  return { number, reading, columns, mended: reading.mapping.mends.map((mend) => mend.line) };
}

/** Codes that the diary does not know, with how many rows have each. */
function unknownCodes(kind: FaultyKind, look: Look): FaultyGroupView['codes'] {
  if (kind.kind !== 'code-unknown') return [];
  const file = look.reading.files.find((one) => one.kind === kind.file);
  const label = file?.mapping.columns.code;
  const at = typeof label === 'string' ? file!.labels.indexOf(label) : -1;
  const counts = new Map<string, number>();
  for (const row of look.reading.faulty) {
    const written = row.cells[at];
    if (row.file !== kind.file || !written || !row.reasons.some((one) => one.kind === 'code-unknown'))
      continue;
    counts.set(written, (counts.get(written) ?? 0) + 1);
  }
  return [...counts].map(([written, rows]) => ({ written, rows })).slice(0, 50);
}

function faultyGroups(look: Look): FaultyGroupView[] {
  const { reading } = look;
  // A kind that is left out has its rows among those left out: they are found again by their lines.
  const rows = [...reading.faulty, ...reading.leftOut.map((row) => ({ ...row, reasons: null }))];
  return reading.faultyKinds.map((kind) => {
    const lines = new Set(kind.lines);
    const first = rows
      .filter((row) => row.file === kind.file && lines.has(row.line))
      .slice(0, shownRows)
      .map((row) => ({
        line: row.line,
        raw: row.raw,
        reasons: row.reasons ?? [
          { kind: kind.kind, column: null, reason: 'why' in row ? row.why : '', mend: '' },
        ],
      }));
    const { file, title, mend, leftOut } = kind;
    const fileNumber = reading.files.findIndex((one) => one.kind === file) + 1;
    const codes = unknownCodes(kind, look);
    return { kind: kind.kind, file, fileNumber, title, mend, rows: kind.rows, leftOut, first, codes };
  });
}

/** One entry of each kind, and another from the end, as the diary will show them. */
function sampleEntries(diary: readonly DiaryRow[]): SampleEntry[] {
  const chosen = new Map<string, DiaryRow[]>();
  for (const row of diary) {
    const kind = row.entry.kind === 'count' ? `count ${row.entry.count.method}` : row.entry.kind;
    const list = chosen.get(kind) ?? [];
    if (list.length < 2) chosen.set(kind, [...list, row]);
    else list[1] = row;
  }
  return [...chosen.values()].flat().map(sampleEntry);
}

const nothingTold = {
  id: 0,
  animals: null,
  adults: null,
  juveniles: null,
  otherCode: null,
  orderNumber: null,
  placeName: null,
  seedingMl: null,
  surface: null,
  springtails: null,
  springtailsWhere: null,
  feedersLeft: null,
  youngSeen: null,
  eggsSeen: null,
  mouldSeen: null,
  mitesSeen: null,
  deaths: null,
  countInput: null,
  wording: null,
  waterMl: null,
  food: null,
  survivalMedian: null,
  withdrawn: false,
  replacesId: null,
  replacedBy: null,
};

function sampleEntry(row: DiaryRow): SampleEntry {
  const { entry, code, line, by, on } = row;
  const other = 'childCode' in entry ? entry.childCode : 'fromCode' in entry ? entry.fromCode : null;
  const ids = { cultureId: () => 0, placeId: () => 0, detection: { alpha: 1, beta: 1 } };
  const { note = '', ...columns } = columnsOf(entry, ids);
  const placeName = entry.kind === 'move' ? entry.place.join(' / ') : null;
  const data = {
    ...nothingTold,
    ...columns,
    note,
    onDay: on,
    otherCode: other,
    placeName,
    by,
    via: 'import',
  };
  return { code, line, by, data };
}

const originWords = { wild: 'caught in the wild', bought: 'bought or swapped', unknown: 'origin not told' };

function sampleCulture(row: CultureRow) {
  const { code, species, foundedOn, enclosure } = row;
  const parents = row.parents.map((parent) => parent.code).join(', ');
  return {
    code,
    species,
    foundedOn,
    animals: row.foundingAnimals,
    from: row.origin === 'split' ? parents : originWords[row.origin],
    enclosure,
    place: writePlace(row.place),
    line: row.lineName,
  };
}

function rowCounts({ files }: ImportReading): PreviewProps['rows'] {
  const sum = (value: (file: FileReading) => number) => files.reduce((total, file) => total + value(file), 0);
  return {
    all: sum((file) => file.counts.rows),
    accepted: sum((file) => file.counts.accepted),
    faulty: sum((file) => file.counts.faulty),
    leftOut: sum((file) => file.counts.leftOut),
    alreadyThere: sum((file) => file.counts.alreadyThere),
  };
}

function otherRows({ leftOut, alreadyThere }: ImportReading): PreviewProps['otherRows'] {
  return [...leftOut.slice(0, 20), ...alreadyThere.slice(0, 5)].map(({ why, file, line, raw }) => ({
    why,
    file,
    line,
    raw,
  }));
}

function offered(call: StaffCall): PreviewProps['offered'] {
  const stock = readStock(call.db);
  return {
    species: stock.species.map((one) => one.scientificName).sort(),
    enclosures: [...stock.enclosures].sort(),
    rooms: stock.places.filter((place) => place.parentId === null).map((place) => place.name),
  };
}

/** The whole preview, with a form that came back where one did. */
export function previewPage(call: StaffCall, upload: Upload, look: Look, form: FormState = emptyForm) {
  const { reading, plan } = look;
  const { cultures, diary, summary } = reading;
  const codes = [...new Set([...cultures.map((row) => row.code), ...diary.map((row) => row.code)])];
  return h(PreviewPage, {
    furniture: call.furniture,
    uploadKey: upload.id,
    version: upload.version,
    seen: seenOf(upload, look),
    ready: look.ready,
    rows: rowCounts(reading),
    made: {
      cultures: summary.cultures,
      entries: diary.length,
      firstDay: summary.firstDay,
      lastDay: summary.lastDay,
    },
    files: reading.files.map((file, at) => fileView(file, at + 1)),
    faulty: faultyGroups(look),
    stock: plan,
    needsRoom: plan.places.filter((place) => place.steps.length > 0 && lacksRoom(place.path)).length,
    offered: offered(call),
    usSystem: call.business.units === 'us',
    notices: reading.noticeGroups.map((group) => ({
      ...group,
      first: reading.notices
        .filter((notice) => notice.kind === group.kind && notice.file === group.file)
        .slice(0, 3)
        .map(({ line, message }) => ({ line, message })),
    })),
    sampleCultures: cultures.slice(0, 5).map(sampleCulture),
    sampleEntries: sampleEntries(diary),
    otherRows: otherRows(reading),
    codes: codes.slice(0, 2000).sort(),
    form,
  });
}

/** Looks at the upload of the address. */
export async function lookIn(call: StaffCall): Promise<{ upload: Upload; look: Look }> {
  const upload = uploadIn(call);
  return { upload, look: await lookAtUpload(call.db, upload, call.today) };
}
