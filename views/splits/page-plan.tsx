import { cultureHref } from '../cultures/page-list.tsx';
import { AboutCulture, CultureHeading } from '../cultures/part-about.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import {
  ChoiceField,
  ErrorSummary,
  Field,
  Form,
  type FormState,
  fieldOf,
  SelectField,
} from '../layout/form.tsx';
import { formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { type LikelyFull, sayFull } from './say-plan.ts';

export type PlanPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  place: string | null;
  enclosures: { id: number; name: string }[];
  /** When the culture will likely be full; null where that is far off or unknown. */
  full: LikelyFull | null;
  today: string;
  form: FormState;
};

const labels = {
  what: 'What is planned',
  onDay: 'On',
  enclosureId: 'Into',
  enclosures: 'Enclosures to fill',
};

const kinds = [
  { value: 'split', label: 'Split', help: 'part of the colony starts a new culture' },
  { value: 'repot', label: 'Fresh substrate', help: 'the colony stays together' },
];

/** Planning a split or a repot, so that its substrate is mixed in time. */
export function PlanPage(props: PlanPageProps) {
  const { furniture, code, scientificName, place, enclosures, full, today, form } = props;
  return (
    <Shell
      furniture={furniture}
      title={`Plan for ${code}`}
      heading={<CultureHeading code={code}>Plan for</CultureHeading>}
      purpose={
        <AboutCulture scientificName={scientificName} place={place}>
          a split or fresh substrate on a day, and what is mixed for it.
        </AboutCulture>
      }
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: cultureHref(code), label: code },
      ]}
    >
      {full && (
        <p>
          <Computed of="population">
            {full.fullOn <= today
              ? 'By its estimate it is full now.'
              : `By its estimate it is likely full on about ${formatDay(full.fullOn, furniture.locale)}.`}
          </Computed>
        </p>
      )}
      <Form furniture={furniture} action={`${cultureHref(code)}/plan`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <ChoiceField label={labels.what} options={kinds} {...fieldOf(form, 'what')} />
        <Field label={labels.onDay} type="date" required min={today} {...fieldOf(form, 'onDay')} />
        <SelectField
          label={labels.enclosureId}
          options={enclosures.map(({ id, name }) => ({ value: String(id), label: name }))}
          {...fieldOf(form, 'enclosureId')}
        />
        <Field
          label={labels.enclosures}
          inputMode="numeric"
          size="short"
          help="The week’s substrate list counts them."
          {...fieldOf(form, 'enclosures')}
        />
        <Actions>
          <Button kind="main">Plan it</Button>
          <LinkButton href={cultureHref(code)}>Leave</LinkButton>
        </Actions>
      </Form>
      {full && <WorkedOut of="population" so={[sayFull(full, furniture.locale)]} />}
    </Shell>
  );
}
