import { type Habits, plannedMethods, usualField } from '../../shared/counts/habits.ts';
import { animalGroups } from '../../shared/species/columns.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { FilledFrom } from '../layout/filled-from.tsx';
import {
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  SelectField,
} from '../layout/form.tsx';
import { formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { groupsWords } from '../species/say.ts';
import { methodWords } from './method-words.ts';

export type HabitsPageProps = {
  furniture: Furniture;
  form: FormState;
  /** What the program begins with. */
  first: Habits;
  /** Nothing was set yet: what the form shows is what the program begins with. */
  areFirst: boolean;
};

const minuteFields = { visible: 'visibleMinutes', sample: 'sampleMinutes', full: 'fullMinutes' } as const;
const labels: Record<string, string> = {
  ...Object.fromEntries(plannedMethods.map((m) => [minuteFields[m], methodWords[m].label])),
  sampleShare: 'How much is searched',
  ...Object.fromEntries(animalGroups.map((group) => [usualField(group), groupsWords[group]])),
};

const ways = plannedMethods.map((value) => ({ value, label: methodWords[value].label }));

const choices = Object.fromEntries(animalGroups.map((group) => [usualField(group), ways]));

function UsualWays({ form, first }: Pick<HabitsPageProps, 'form' | 'first'>) {
  return (
    <FieldSet legend="The usual way" class="care-fields">
      {animalGroups.map((group) => (
        <SelectField
          key={group}
          label={groupsWords[group]}
          options={ways}
          help={`Ours: ${methodWords[first.usual[group]].label.toLowerCase()}.`}
          {...fieldOf(form, usualField(group))}
        />
      ))}
    </FieldSet>
  );
}

/** How counts are made here: the minutes each way costs, and the usual way for each group of animals. */
export function HabitsPage({ furniture, form, first, areFirst }: HabitsPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="How you count"
      purpose="The list of counts worth making weighs what a count may free against the minutes it costs."
      breadcrumbs={[
        { href: '/settings', label: 'Settings' },
        { href: '/surplus/count-next', label: 'What to count next' },
      ]}
    >
      {areFirst && (
        <p class="quiet">
          These are our figures to begin with: common practice, no source. Put in yours when you have timed a
          few counts.
        </p>
      )}
      <Form furniture={furniture} action="/settings/counting">
        <FilledFrom form={form} words={labels} choices={choices} />
        <ErrorSummary errors={form.errors} labels={labels} />
        <FieldSet legend="How long one count takes">
          {plannedMethods.map((method) => (
            <Field
              key={method}
              label={methodWords[method].label}
              inputMode="decimal"
              size="short"
              unit="minutes"
              required
              help={`Ours: ${first.minutes[method]} minutes.`}
              {...fieldOf(form, minuteFields[method])}
            />
          ))}
          <Field
            label="How much is searched"
            size="short"
            required
            help={`When only part of the substrate is: a percentage or parts, 20 % or 1 of 5. Ours: ${formatPercent(first.sampleShare, furniture.locale, 1)}.`}
            {...fieldOf(form, 'sampleShare')}
          />
        </FieldSet>
        <UsualWays form={form} first={first} />
        <Actions>
          <Button kind="main">Save</Button>
          <LinkButton href="/surplus/count-next">Leave</LinkButton>
        </Actions>
      </Form>
      <WorkedOut of="count-next" label="What becomes of the minutes" />
    </Shell>
  );
}
