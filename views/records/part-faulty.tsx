import { Actions, Button } from '../layout/button.tsx';
import { CheckField, Field, Form, fieldOf } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import { Mark } from '../layout/mark.tsx';
import { DataTable } from '../layout/table.tsx';
import { formFor, SayForm } from './part-form.tsx';
import type { FaultyGroupView, FaultyRowView, PreviewProps } from './preview-data.ts';

/** Faults that are mended for all their rows by saying what a word means. */
const aboutWords = new Set(['word-not-understood', 'status-not-understood', 'parent-unknown']);

const base = ({ uploadKey }: PreviewProps) => `/records/drafts/${uploadKey}`;

function Rows({ group, props }: { group: FaultyGroupView; props: PreviewProps }) {
  const mendHref = (row: FaultyRowView) => `${base(props)}/files/${group.fileNumber}/rows/${row.line}`;
  return (
    <DataTable
      caption={`Rows: ${group.title}`}
      hideCaption
      rows={group.first}
      rowKey={(row) => row.line}
      columns={[
        { key: 'line', head: 'Line', rowHeader: true, cell: (row) => `Line ${row.line}` },
        {
          key: 'row',
          head: 'The row as it stands',
          phoneWide: true,
          cell: (row) => <code class="raw">{row.raw}</code>,
        },
        {
          key: 'why',
          head: 'Why not',
          phoneWide: true,
          cell: (row) => row.reasons.map((one) => one.reason).join(' '),
        },
        {
          key: 'mend',
          head: 'Mend',
          hideHead: true,
          phoneLabel: '',
          cell: (row) => !group.leftOut && <a href={mendHref(row)}>Mend line {row.line}</a>,
        },
      ]}
    />
  );
}

function Group({ group, props }: { group: FaultyGroupView; props: PreviewProps }) {
  const value = `${group.file} ${group.kind}`;
  const rows = formatCount(group.rows, 'row', 'rows', props.furniture.locale);
  return (
    <section class="fault-group" aria-label={group.title}>
      <h3>
        <Mark kind={group.leftOut ? 'done' : 'needs-you'} /> {group.title}: {rows}
        {props.files.length > 1 && (
          <span class="quiet"> in {props.files[group.fileNumber - 1]?.reading.name}</span>
        )}
      </h3>
      <p>
        {group.leftOut ? 'Left out knowingly.' : group.mend}
        {!group.leftOut && aboutWords.has(group.kind) && (
          <>
            {' '}
            <a href={`#words-${group.fileNumber}`}>To the words of the file</a>
          </>
        )}
      </p>
      <Rows group={group} props={props} />
      {group.rows > group.first.length && (
        <p class="quiet">
          The first {group.first.length} of {group.rows}.{' '}
          <a href={`${base(props)}/files/${group.fileNumber}/not-brought-in.csv`}>All of them as CSV</a>
        </p>
      )}
      <input type="hidden" name="shown" value={value} />
      <CheckField
        label={`Leave ${group.rows === 1 ? 'this row' : `these ${rows}`} out`}
        name="leaveOut"
        value={value}
        checked={group.leftOut}
        id={`leave-${group.file}-${group.kind}`}
      />
    </section>
  );
}

/** Codes that are written throughout as no culture is called: corrected once for all their rows. */
function UnknownCodes({ group, props }: { group: FaultyGroupView; props: PreviewProps }) {
  if (group.codes.length === 0 || group.leftOut) return null;
  const values = Object.fromEntries(group.codes.map(({ written }) => [`code.${written}`, '']));
  const form = formFor(props.form, `codes${group.fileNumber}`, values);
  return (
    <details class="more">
      <summary>A culture is called otherwise in {props.files[group.fileNumber - 1]?.reading.name}</summary>
      <SayForm
        furniture={props.furniture}
        action={`${base(props)}/files/${group.fileNumber}`}
        version={props.version}
        form={form}
        part="codes"
        keyPart={`codes${group.fileNumber}`}
        button="Take the codes so"
      >
        <div class="field-row">
          {group.codes.map(({ written, rows }) => (
            <Field
              key={written}
              label={`“${written}” is`}
              size="short"
              optional
              list={props.codes.slice(0, 500)}
              help={`${formatCount(rows, 'row')}. Write the code it has here.`}
              {...fieldOf(form, `code.${written}`)}
            />
          ))}
        </div>
      </SayForm>
    </details>
  );
}

/** Every kind of faulty row with its reason and how to mend it; each is mended or left out knowingly. */
export function Faulty(props: PreviewProps) {
  if (props.faulty.length === 0) return null;
  return (
    <section id="faulty" aria-labelledby="faulty-title">
      <h2 id="faulty-title">Rows that cannot come in as they are</h2>
      <p>
        Mend a row here, mend it in your file and bring the file again, or leave it out. Rows that are left
        out can be downloaded afterwards with their reasons.
      </p>
      <Form
        furniture={props.furniture}
        action={`${base(props)}/left-out`}
        keyPart="left-out"
        class="fault-groups"
      >
        <input type="hidden" name="version" value={props.version} />
        {props.faulty.map((group) => (
          <Group key={`${group.file} ${group.kind}`} group={group} props={props} />
        ))}
        <Actions>
          <Button kind={props.rows.faulty > 0 ? 'main' : 'plain'}>Keep these decisions</Button>
        </Actions>
      </Form>
      {props.faulty.map((group) => (
        <UnknownCodes key={`${group.file} ${group.kind}`} group={group} props={props} />
      ))}
    </section>
  );
}
