import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, fieldOf } from '../layout/form.tsx';
import { formatCount, formatDay, formatNumber } from '../layout/format.ts';
import { Mark } from '../layout/mark.tsx';
import { Shell } from '../layout/shell.tsx';
import { DateQuestions } from './part-dates.tsx';
import { Faulty } from './part-faulty.tsx';
import { FileSection, hasQuestions } from './part-file.tsx';
import { formFor } from './part-form.tsx';
import { Notices, OtherRows, Sample } from './part-sample.tsx';
import { StockNeeded } from './part-stock.tsx';
import type { PreviewProps } from './preview-data.ts';

const base = ({ uploadKey }: PreviewProps) => `/records/drafts/${uploadKey}`;

/** More rows than these are written for longer than anybody waits gladly. */
const manyRows = 30_000;

type Open = { href: string; message: string };

/** What must be said before anything can be brought in, in the order of the page. */
function openThings({ files, faulty, stock, rows }: PreviewProps): Open[] {
  const questions = files.flatMap((file) =>
    file.reading.questions.map((question) => ({
      href:
        question.kind === 'columns-needed' || question.kind === 'column-not-found'
          ? `#file-${file.number}`
          : '#days',
      message: `${file.reading.name}: ${question.message}`,
    })),
  );
  const words = files.flatMap((file) => {
    const open = file.reading.words.filter((use) => use.means === null).length;
    if (open === 0) return [];
    const message = `${file.reading.name}: say what ${formatCount(open, 'word means', 'words mean')}.`;
    return [{ href: `#words-${file.number}`, message }];
  });
  const kinds = faulty.filter((group) => !group.leftOut).length;
  const undecided =
    rows.faulty > 0
      ? [
          {
            href: '#faulty',
            message: `${formatCount(rows.faulty, 'row')} in ${formatCount(kinds, 'kind')} cannot come in as ${rows.faulty === 1 ? 'it is' : 'they are'}: mend or leave out.`,
          },
        ]
      : [];
  return [
    ...questions,
    ...words,
    ...undecided,
    ...stock.open.map(({ message }) => ({ href: '#stock', message })),
  ];
}

function madeWords({ made, furniture }: PreviewProps): string {
  const parts = [
    made.cultures > 0 && formatCount(made.cultures, 'culture', 'cultures', furniture.locale),
    made.entries > 0 && formatCount(made.entries, 'diary entry', 'diary entries', furniture.locale),
  ].filter(Boolean);
  const days =
    made.firstDay && made.lastDay
      ? `, from ${formatDay(made.firstDay, furniture.locale)} to ${formatDay(made.lastDay, furniture.locale)}`
      : '';
  return `${parts.join(' and ')}${days}`;
}

function BringIn({ props }: { props: PreviewProps }) {
  const { furniture, rows, ready, seen, version } = props;
  const words = formatCount(rows.accepted, 'row', 'rows', furniture.locale);
  return (
    <Form furniture={furniture} action={`${base(props)}/bring-in`} keyPart="bring-in" class="bring-in">
      <input type="hidden" name="version" value={version} />
      <input type="hidden" name="seen" value={seen} />
      <Button kind="main" disabled={!ready || rows.accepted === 0}>
        Bring in {words}
      </Button>
    </Form>
  );
}

function nothingYet({ files, rows }: PreviewProps, asks: boolean): string {
  const which = files.length === 1 ? 'this file' : 'these files';
  return asks && rows.alreadyThere === 0
    ? `No row of ${which} can be read yet: answer first what is asked here.`
    : `Nothing new is in ${which} to bring in.`;
}

/** Where the whole stands, in one sentence, and what is open. */
function Standing(props: PreviewProps) {
  const { rows, ready, furniture } = props;
  const open = openThings(props);
  const number = (value: number) => formatNumber(value, furniture.locale);
  return (
    <section class="slip" aria-labelledby="standing-title">
      <h2 id="standing-title" class="visually-hidden">
        Where it stands
      </h2>
      <p class="verdict">
        {rows.accepted === 0
          ? nothingYet(props, open.length > 0)
          : `${number(rows.accepted)} of ${number(rows.all)} rows ${ready ? 'come in' : 'could come in'}: ${madeWords(props)}.`}
      </p>
      {rows.alreadyThere > 0 && (
        <p>{formatCount(rows.alreadyThere, 'row')} are in the records already and stay as they are.</p>
      )}
      {rows.leftOut > 0 && <p>{formatCount(rows.leftOut, 'row')} left out knowingly.</p>}
      {open.length > 0 && (
        <>
          <p>
            <Mark kind="needs-you" /> <strong>Open, before anything is written:</strong>
          </p>
          <ul>
            {open.map(({ href, message }) => (
              <li key={message}>
                <a href={href}>{message}</a>
              </li>
            ))}
          </ul>
        </>
      )}
      <Actions>
        <BringIn props={props} />
        <PostButton
          furniture={furniture}
          action={`${base(props)}/throw-away`}
          label="Throw these files away"
          kind="quiet"
          keyPart="throw-away"
        />
      </Actions>
      <p class="quiet after-actions">
        Nothing is written until you press the button. Then all of it is written, or nothing; and it can be
        undone.
        {rows.accepted > manyRows &&
          ' So many rows take up to a minute, in which nobody else can work: choose a quiet hour.'}
      </p>
    </section>
  );
}

function Days(props: PreviewProps) {
  const asked = props.files.filter((file) =>
    file.reading.questions.some((one) => one.kind === 'date-order' || one.kind === 'serial-dates'),
  );
  if (asked.length === 0) return null;
  return (
    <section id="days" class="slip" aria-labelledby="days-title">
      <h2 id="days-title">Which day is meant?</h2>
      {asked.map((file) => (
        <DateQuestions
          key={file.number}
          furniture={props.furniture}
          action={`${base(props)}/files/${file.number}`}
          version={props.version}
          file={file}
          returned={props.form}
          locale={props.furniture.locale}
        />
      ))}
    </section>
  );
}

/** All that was said, to be saved and used again for the next file. */
function SavedMapping(props: PreviewProps) {
  const form = formFor(props.form, 'mapping', {});
  return (
    <section aria-labelledby="mapping-title">
      <h2 id="mapping-title">Keep what you said for next time</h2>
      <p>
        A mapping says what your columns and words mean. Bring it with the next file, here or on the command
        line.
      </p>
      <Actions>
        <LinkButton href={`${base(props)}/mapping.json`} download>
          Save the mapping
        </LinkButton>
      </Actions>
      <details class="more" open={form.errors.mapping !== undefined}>
        <summary>Use a mapping that I saved</summary>
        <Form
          furniture={props.furniture}
          action={`${base(props)}/mapping`}
          keyPart="mapping"
          encType="multipart/form-data"
        >
          <ErrorSummary errors={form.errors} formId="mapping" labels={{ mapping: 'Saved mapping' }} />
          <input type="hidden" name="version" value={props.version} />
          <Field
            label="Saved mapping"
            type="file"
            accept=".json,application/json"
            {...fieldOf(form, 'mapping')}
          />
          <Actions>
            <Button>Use it</Button>
          </Actions>
        </Form>
      </details>
    </section>
  );
}

function Files(props: PreviewProps) {
  return (
    <>
      {props.files.map((file) => (
        <FileSection key={file.number} file={file} props={props} />
      ))}
    </>
  );
}

/** What would come in, what would not and why, and everything that can be said about it. */
export function PreviewPage(props: PreviewProps) {
  return (
    <Shell
      furniture={props.furniture}
      title="Look before it comes in"
      purpose={`What would come in of ${props.files.map((file) => file.reading.name).join(' and ')}. Nothing is written yet.`}
      width="wide"
      breadcrumbs={[{ href: '/records', label: 'Records' }]}
    >
      <Standing {...props} />
      <Days {...props} />
      <Files {...props} files={props.files.filter(hasQuestions)} />
      <Faulty {...props} />
      <StockNeeded {...props} />
      <Sample {...props} />
      <Files {...props} files={props.files.filter((file) => !hasQuestions(file))} />
      <Notices {...props} />
      <OtherRows {...props} />
      <SavedMapping {...props} />
    </Shell>
  );
}
