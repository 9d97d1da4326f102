import { fromRound, inPart, roundPath } from '../../shared/checks/round-address.ts';
import { volumeUnitsOf } from '../../shared/settings/typed-volume.ts';
import { type EntryData, entryWords, kindWords } from '../cultures/entry-words.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { AboutCulture, CultureHeading } from '../cultures/part-about.tsx';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import {
  CheckField,
  ChoiceField,
  checkOf,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  TextAreaField,
} from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import {
  type ContactChoices,
  contactLabels,
  FeederField,
  ToolsFields,
} from '../traces/part-contact-fields.tsx';

export type CheckPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  place: string | null;
  cautions: string;
  inQuarantine: boolean;
  /** The part of the round to go on with. */
  part: number | null;
  form: FormState;
  today: string;
  last: EntryData[];
  contacts: ContactChoices;
  /** What is due there now: what was foretold is asked for. */
  open: readonly string[];
};

/** A choice can be taken back: a chip that was touched by mistake must not become a fact. */
const notNoted = { value: '', label: 'not noted' };
const options = (...words: string[]) => [...words.map((value) => ({ value, label: value })), notNoted];
const choiceOf = (form: FormState, name: string) => {
  const field = fieldOf(form, name);
  return { ...field, value: field.value ?? '' };
};
const labels: Record<string, string> = {
  onDay: 'Day',
  visible: 'Animals seen',
  waterMl: 'Watered',
  deaths: 'Dead animals',
  note: 'Note',
  ...contactLabels,
};

/** Asked only where it was foretold, so that a look that found none says so. */
function Foretold({ form, open }: Pick<CheckPageProps, 'form' | 'open'>) {
  const field = choiceOf(form, 'lookedFor');
  const isAsked = (what: string) =>
    open.includes(what) || field.value === what || field.value === `no-${what}`;
  const asked = (['young', 'adults'] as const).filter(isAsked);
  if (asked.length === 0) return null;
  const answers = asked.flatMap((what) => [
    { value: what, label: `${what} there` },
    { value: `no-${what}`, label: `no ${what} yet` },
  ]);
  return (
    <ChoiceField
      label={`Looked for ${asked.join(' or ')}`}
      options={[...answers, { value: '', label: 'not looked' }]}
      {...field}
    />
  );
}

function Seen({ form, open }: Pick<CheckPageProps, 'form' | 'open'>) {
  return (
    <FieldSet legend="What you see">
      <ChoiceField label="Surface" options={options('wet', 'moist', 'dry')} {...choiceOf(form, 'surface')} />
      <ChoiceField
        label="Springtails"
        options={options('none', 'few', 'some', 'many')}
        {...choiceOf(form, 'springtails')}
      />
      <ChoiceField
        label="Where they are"
        options={[
          { value: 'low', label: 'low', help: 'in the substrate' },
          { value: 'ranging', label: 'ranging', help: 'up the walls' },
          notNoted,
        ]}
        {...choiceOf(form, 'springtailsWhere')}
      />
      <ChoiceField
        label="Feeders left"
        options={options('none', 'few', 'plenty')}
        {...choiceOf(form, 'feedersLeft')}
      />
      <Foretold form={form} open={open} />
      <CheckField label="Young seen" {...checkOf(form, 'youngSeen')} />
      <CheckField label="Females with eggs or brood seen" {...checkOf(form, 'eggsSeen')} />
      <CheckField label="Mould" {...checkOf(form, 'mouldSeen')} />
      <CheckField label="Mites" {...checkOf(form, 'mitesSeen')} />
      <Field label="Dead animals" inputMode="numeric" size="short" {...fieldOf(form, 'deaths')} />
      <Field
        label="Animals seen"
        inputMode="numeric"
        size="short"
        help="At the wall, under the lid, on the bark, without digging: a visible count."
        {...fieldOf(form, 'visible')}
      />
    </FieldSet>
  );
}

function Did({ form, contacts, furniture }: Pick<CheckPageProps, 'form' | 'contacts' | 'furniture'>) {
  const offered = volumeUnitsOf(furniture.units ?? 'metric');
  return (
    <FieldSet legend="What you did">
      <Field
        label="Watered"
        inputMode="decimal"
        size="short"
        unit={{
          name: 'waterUnit',
          value: String(form.values.waterUnit ?? offered[0]?.value),
          options: offered,
        }}
        {...fieldOf(form, 'waterMl')}
      />
      <Field
        label="Fed"
        maxLength={80}
        {...fieldOf(form, 'food')}
        help="What they got: leaf litter, fish flake, vegetables."
      />
      <FeederField form={form} choices={contacts} />
      <CheckField label="Old fruit taken out" {...checkOf(form, 'fruitOut')} />
      <CheckField label="Fresh fruit put in" {...checkOf(form, 'fruitIn')} />
      <ChoiceField
        label="Substrate renewed"
        options={[
          { value: 'mixed', label: 'mixed with some old', help: 'what lives in it goes on' },
          { value: 'new', label: 'all new' },
          { value: '', label: 'no' },
        ]}
        {...choiceOf(form, 'substrate')}
      />
      <ToolsFields form={form} choices={contacts} />
    </FieldSet>
  );
}

function Last({ entries, furniture }: { entries: EntryData[]; furniture: Furniture }) {
  const { locale, units } = furniture;
  if (entries.length === 0) return null;
  return (
    <section aria-labelledby="last-title">
      <h2 id="last-title">Lately</h2>
      <ul class="lately">
        {entries.map((e) => (
          <li key={e.id}>
            <Day iso={e.onDay} locale={locale} />
            <span>
              {kindWords[e.kind]}: {[entryWords(e, units), e.note].filter(Boolean).join('; ')}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function CheckPage(props: CheckPageProps) {
  const { furniture, code, part, form, today, last, inQuarantine, cautions } = props;
  const at = cultureHref(code);
  return (
    <Shell
      furniture={furniture}
      title={`Check ${code}`}
      heading={<CultureHeading code={code}>Check</CultureHeading>}
      purpose={
        <AboutCulture scientificName={props.scientificName} place={props.place}>
          what you see at a look. Leave out what you did not look for.
        </AboutCulture>
      }
      breadcrumbs={[{ href: roundPath(part), label: 'Round' }]}
      actions={
        <PostButton
          furniture={furniture}
          action={`${at}/all-well${inPart(part)}`}
          label="All well"
          kind="main"
        />
      }
    >
      {inQuarantine && (
        <Notice tone="needs-you">In quarantine: handle it last, wash hands and tools after it.</Notice>
      )}
      <Form
        furniture={furniture}
        action={`${at}/check?from=${fromRound(part)}`}
        keyPart="check"
        class="form form-long"
      >
        <ErrorSummary errors={form.errors} labels={labels} />
        <Seen form={form} open={props.open} />
        <Did form={form} contacts={props.contacts} furniture={furniture} />
        <TextAreaField label="Note" rows={3} maxLength={4000} {...fieldOf(form, 'note')} />
        <Field label="Day" type="date" max={today} {...fieldOf(form, 'onDay')} />
        <Actions>
          <Button kind="main">Write it down</Button>
          <LinkButton href={at}>Leave</LinkButton>
        </Actions>
      </Form>
      <Last entries={last} furniture={furniture} />
      {cautions && <p class="quiet">{cautions}</p>}
    </Shell>
  );
}
