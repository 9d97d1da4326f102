import type { Look } from '../server/records/look.ts';
import { faultKinds } from '../shared/records/faults.ts';
import type { FaultyKind, FileReading } from '../shared/records/result.ts';

export const USAGE = `usage: npm run import -- [options] FILE [FILE]

Brings a list of cultures, a diary, or both (CSV) into the records. All of it comes in, or nothing: while a question is
open or a faulty row is not decided about, nothing is written. The page Records undoes it.

  --mapping FILE         what columns and words mean, as the page or --write-mapping saved it
  --leave-out KIND       leave out rows with this kind of fault, knowingly; may be given several times
  --dry-run              say what would come in, and write nothing
  --not-brought-in FILE  write the rows that stay out, with their reasons, to this CSV file
  --write-mapping FILE   write down how the files were read, to be edited and given back with --mapping
  --as NAME              sign-in name of the person who brings it
  --data-dir DIR         folder of the database (else DATA_DIR, else data)
  --help                 this text

exit codes: 0 done, 1 the database could not be used, 2 something is open or wrong
`;

const rows = (count: number) => `${count} ${count === 1 ? 'row' : 'rows'}`;

function fileWords({ name, kind, counts, encoding, mapping }: FileReading): string {
  const parted = { ',': 'commas', ';': 'semicolons', '\t': 'tabs', '|': 'bars' }[mapping.delimiter];
  const what = kind === 'cultures' ? 'a list of cultures' : 'a diary';
  const numbers = [
    `${counts.accepted} come in`,
    counts.faulty > 0 && `${counts.faulty} cannot as they are`,
    counts.leftOut > 0 && `${counts.leftOut} left out`,
    counts.alreadyThere > 0 && `${counts.alreadyThere} there already`,
  ].filter(Boolean);
  return `${name}: ${what}, ${encoding}, ${parted}. ${rows(counts.rows)}: ${numbers.join(', ')}.`;
}

function faultyWords({ kind, file, title, mend, rows: count, lines, leftOut }: FaultyKind): string {
  const where = `${rows(count)} of the ${file === 'cultures' ? 'cultures' : 'diary'}, line ${lines.slice(0, 10).join(', ')}${count > 10 ? ' ...' : ''}`;
  return `  ${kind}: ${title}. ${where}. ${leftOut ? 'Left out.' : mend}`;
}

/** What was read, for people: files, what would come in, what is open. */
export function summaryWords({ reading, plan }: Look): string[] {
  const { summary } = reading;
  const days = summary.firstDay ? `, ${summary.firstDay} to ${summary.lastDay}` : '';
  const made = [
    [plan.species.filter((one) => one.make !== null).length, 'species'],
    [plan.lines.filter((one) => one.isNew).length, 'lines'],
    [plan.enclosures.filter((one) => one.make !== null).length, 'enclosures'],
    [plan.places.filter((one) => one.steps.length > 0).length, 'places'],
  ] as const;
  const kinds = Object.entries(summary.entries).map(([kind, count]) => `${kind} ${count}`);
  return [
    ...reading.files.map(fileWords),
    `In all: ${summary.cultures} cultures and ${reading.diary.length} diary entries${days}.`,
    ...(kinds.length > 0 ? [`Entries: ${kinds.join(', ')}.`] : []),
    `Made with them: ${made.map(([count, what]) => `${count} ${what}`).join(', ')}.`,
    ...reading.noticeGroups.map((group) => `Note: ${group.title}: ${rows(group.rows)}.`),
    ...(reading.faultyKinds.length > 0 ? ['Rows that cannot come in as they are:'] : []),
    ...reading.faultyKinds.map(faultyWords),
  ];
}

/** What must be said before anything is written. */
export function openWords({ reading, plan }: Look): string[] {
  const open = new Set(reading.faultyKinds.filter((kind) => !kind.leftOut).map((kind) => kind.kind));
  return [
    ...reading.files.flatMap((file) => file.questions.map((question) => `${file.name}: ${question.message}`)),
    ...plan.open.map(({ message }) => message),
    ...(reading.faulty.length > 0
      ? [
          `${rows(reading.faulty.length)} undecided: mend the file, or leave them out with ${[...open].map((kind) => `--leave-out ${kind}`).join(' ')}`,
        ]
      : []),
  ];
}

export const kindNames = Object.keys(faultKinds);
