import type { TraceFilter } from '../../shared/traces/form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { Actions, Button, PostButton } from '../layout/button.tsx';
import { Code } from '../layout/code.tsx';
import {
  ChoiceField,
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  hasErrors,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { contactPath } from './say.ts';

/** A contact that was written down by itself. */
export type WrittenContact = {
  id: number;
  onDay: string;
  kind: 'shared tool' | 'seeding' | 'feeders';
  from: string;
  to: string;
  note: string;
  by: string | null;
};

export type MissingContactProps = {
  furniture: Furniture;
  code: string;
  asked: TraceFilter;
  /** The latest of this culture. */
  written: readonly WrittenContact[];
  form: FormState;
  today: string;
};

const labels = { way: 'Which way', other: 'Other culture', kind: 'What went', onDay: 'Day', note: 'Note' };

const hiddenOf = ({ what, since, seen, back, sort }: TraceFilter) =>
  Object.entries({ what, since, seen, back, sort }).flatMap(([name, value]) =>
    value ? [[name, value] as const] : [],
  );

function ContactForm({ furniture, code, asked, form, today }: Omit<MissingContactProps, 'written'>) {
  return (
    <Form furniture={furniture} action={contactPath(code)} keyPart="contact">
      <ErrorSummary errors={form.errors} labels={labels} formId={form.id} />
      {hiddenOf(asked).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <ChoiceField
        label={labels.kind}
        options={[
          { value: 'shared tool', label: 'A tool', help: 'not cleaned in between' },
          { value: 'seeding', label: 'Old substrate', help: 'or springtails with it' },
          { value: 'feeders', label: 'Feeders' },
        ]}
        {...fieldOf(form, 'kind')}
      />
      <ChoiceField
        label={labels.way}
        options={[
          { value: 'to', label: `From ${code} to the other` },
          { value: 'from', label: `From the other to ${code}` },
        ]}
        {...fieldOf(form, 'way')}
      />
      <Field label={labels.other} size="short" maxLength={40} help="Its code." {...fieldOf(form, 'other')} />
      <Field label={labels.onDay} type="date" max={today} {...fieldOf(form, 'onDay')} />
      <Field label={labels.note} maxLength={500} size="long" {...fieldOf(form, 'note')} optional />
      <Actions>
        <Button>Write the contact down</Button>
      </Actions>
    </Form>
  );
}

const wentWords: Record<WrittenContact['kind'], string> = {
  'shared tool': 'uncleaned tools',
  seeding: 'old substrate',
  feeders: 'feeders',
};

function What({ contact, code }: { contact: WrittenContact; code: string }) {
  const isOut = contact.from === code;
  const other = isOut ? contact.to : contact.from;
  return (
    <>
      {wentWords[contact.kind]} {isOut ? 'to' : 'from'} <Code href={cultureHref(other)}>{other}</Code>
    </>
  );
}

function columnsOf({ furniture, code, asked }: MissingContactProps): Column<WrittenContact>[] {
  const fields = Object.fromEntries(hiddenOf(asked));
  const takeOut = (contact: WrittenContact) => (
    <PostButton
      furniture={furniture}
      action={`${contactPath(code)}/${contact.id}/withdraw`}
      fields={fields}
      keyPart={`contact-${contact.id}`}
      label="Take out"
      ariaLabel={`Take out the contact of ${contact.onDay}`}
      kind="quiet"
    />
  );
  return [
    {
      key: 'day',
      head: 'Day',
      rowHeader: true,
      cell: (c) => <Day iso={c.onDay} locale={furniture.locale} />,
    },
    { key: 'what', head: 'Contact', cell: (c) => <What contact={c} code={code} /> },
    { key: 'note', head: 'Note', cell: (c) => c.note },
    { key: 'by', head: 'By', cell: (c) => c.by ?? 'unknown' },
    { key: 'out', head: 'Take out', hideHead: true, phoneLabel: '', cell: takeOut },
  ];
}

/** Contacts that no other entry tells of, and a form for one that was forgotten. */
export function MissingContact(props: MissingContactProps) {
  const { code, written, form } = props;
  return (
    <section class="not-on-list" aria-labelledby="contacts-title">
      <h2 id="contacts-title">Contacts that no other entry tells of</h2>
      <p>
        Tools that were not cleaned, old substrate and feeders. Splits, animals put in and meals stand in the
        diaries.
      </p>
      {written.length > 0 && (
        <DataTable
          caption={`Contacts of ${code}`}
          hideCaption
          columns={columnsOf(props)}
          rows={written}
          rowKey={(c) => c.id}
        />
      )}
      <details open={hasErrors(form)}>
        <summary>Write down a contact that is missing</summary>
        <ContactForm {...props} />
      </details>
    </section>
  );
}
