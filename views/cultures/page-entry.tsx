import { PhotoBoard, type PhotoData } from '../counts/part-photo.tsx';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Code } from '../layout/code.tsx';
import { Facts } from '../layout/facts.tsx';
import { SavedMeanwhile } from '../layout/filled-from.tsx';
import {
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  hasErrors,
  TextAreaField,
} from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { type EntryData, entryWords, kindWords } from './entry-words.ts';
import { cultureHref } from './page-list.tsx';

export type EntryPageProps = {
  furniture: Furniture;
  code: string;
  entry: EntryData;
  form: FormState;
  /** Which number of the entry can be mended here; null when it has none. */
  numberLabel: string | null;
  /** Why it cannot be mended here, in a sentence; null when it can. */
  locked: string | null;
  /** For a split: why it cannot be taken back; null where it can. */
  split: { stays: string | null } | null;
  /** The culture whose diary has the other half of it, which follows. */
  alsoIn: string | null;
  /** What it was counted on. */
  photo: PhotoData | null;
  today: string;
};

const labelsOf = ({ entry, numberLabel }: EntryPageProps): Record<string, string> => ({
  onDay: 'Day',
  ...(numberLabel && { number: numberLabel }),
  ...(entry.kind === 'feed' && { food: 'Food' }),
  note: 'Note',
});

/** Why it cannot be mended here; with what was typed, when it could until somebody else was quicker. */
function Locked(props: EntryPageProps) {
  const { locked, form } = props;
  if (locked === null) return null;
  const typed = Object.entries(labelsOf(props)).map(([name, term]) => ({
    term,
    value: String(form.values[name] ?? ''),
  }));
  return (
    <>
      <Notice tone="needs-you">{locked}</Notice>
      {hasErrors(form) && (
        <section aria-label="What you typed" tabIndex={-1} data-focus="now">
          <h2>What you typed was not saved</h2>
          <Facts items={typed} />
        </section>
      )}
    </>
  );
}

function Mend(props: EntryPageProps) {
  const { furniture, code, entry, form, numberLabel, today } = props;
  const action = `${cultureHref(code)}/diary/${entry.id}`;
  const labels = labelsOf(props);
  return (
    <>
      <Form furniture={furniture} action={action}>
        <SavedMeanwhile form={form} words={labels} />
        <ErrorSummary errors={form.errors} labels={labels} />
        <Field label="Day" type="date" max={today} {...fieldOf(form, 'onDay')} required />
        {numberLabel && (
          <Field label={numberLabel} inputMode="decimal" size="short" {...fieldOf(form, 'number')} required />
        )}
        {entry.kind === 'feed' && <Field label="Food" maxLength={80} {...fieldOf(form, 'food')} />}
        <TextAreaField label="Note" rows={3} maxLength={4000} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">Put this in its place</Button>
          <LinkButton href={`${cultureHref(code)}#diary`}>Leave</LinkButton>
        </Actions>
      </Form>
      <h2>Or take it out</h2>
      <p>
        If it never happened, or belongs to another culture. It stays readable, and this can be undone by
        writing it again.
      </p>
      <PostButton
        furniture={furniture}
        action={`${action}/withdraw`}
        label="Take this entry out"
        kind="harm"
      />
    </>
  );
}

function TakeSplitBack({ furniture, code, entry, split }: EntryPageProps) {
  if (!split) return null;
  if (split.stays !== null) return <p>{split.stays}</p>;
  return (
    <>
      <p>
        If it never happened: its animals are in <Code>{code}</Code> again, and {entry.otherCode} is a culture
        that never was. Nothing else was written of it yet.
      </p>
      <PostButton
        furniture={furniture}
        action={`${cultureHref(code)}/splits/${entry.id}/back`}
        label="Take the split back"
        kind="harm"
      />
    </>
  );
}

export function EntryPage(props: EntryPageProps) {
  const { furniture, code, entry, locked, alsoIn } = props;
  return (
    <Shell
      furniture={furniture}
      title={`${kindWords[entry.kind]}, ${code}`}
      heading={
        <>
          {kindWords[entry.kind]} <Code>{code}</Code>
        </>
      }
      purpose="What is written stays readable; a correction takes its place, and the estimate follows."
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: cultureHref(code), label: code },
      ]}
    >
      <Facts
        items={[
          { term: 'Day', value: <Day iso={entry.onDay} locale={furniture.locale} /> },
          { term: 'Says', value: entryWords(entry, furniture.units) },
          { term: 'Note', value: entry.note },
          { term: 'By', value: entry.by },
        ]}
      />
      {props.photo && (
        <div class="photo-kept">
          <PhotoBoard photo={props.photo} />
          <p class="quiet">{formatCount(props.photo.taps.length, 'tap')} on the photo.</p>
        </div>
      )}
      {alsoIn && (
        <p>
          The other half stands in the diary of <Code href={cultureHref(alsoIn)}>{alsoIn}</Code> and follows
          whatever is done here.
        </p>
      )}
      {locked ? <Locked {...props} /> : <Mend {...props} />}
      <TakeSplitBack {...props} />
    </Shell>
  );
}
