import { retirementReasons, type WrittenKind } from '../../shared/cultures/diary-form.ts';
import {
  CheckField,
  ChoiceField,
  checkOf,
  Field,
  type FormState,
  fieldOf,
  type Option,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import { formatNumber } from '../layout/format.ts';
import { floorWords } from '../lines/say.ts';
import {
  type ContactChoices,
  contactLabels,
  FeederField,
  ToolsFields,
} from '../traces/part-contact-fields.tsx';

/** What the fields offer to choose from. */
export type Offered = {
  foods: string[];
  volumeUnits: readonly Option[];
  places: { id: number; name: string }[];
  others: { id: number; code: string }[];
  /** The effective size now, and from how many animals down it is small; null where that is not known. */
  floor: { now: number; effective: number; animals: number | null } | null;
  /** Cultures of the species that are never mixed with this one. */
  apart: string[];
  /** Null where no tool is used. */
  contacts: ContactChoices | null;
};

type Props = { form: FormState; offered: Offered };

/** The first few of many codes. */
function someCodes(codes: readonly string[]): string {
  const few = codes.slice(0, 8).join(', ');
  return codes.length > 8 ? `${few} and ${codes.length - 8} more` : few;
}

/** What the fields are called, for the summary of what to mend. */
export const writeLabels: Record<string, string> = {
  food: 'Fed',
  amount: 'Water',
  animals: 'Animals',
  adults: 'Of these, adults',
  juveniles: 'Of these, juveniles',
  fromId: 'Where from',
  lost: 'Share lost',
  sure: 'How sure is that',
  placeId: 'Moved to',
  why: 'Why',
  note: 'Note',
  onDay: 'Day',
  reason: 'Why all the same',
  ...contactLabels,
};

function Note({
  form,
  label = 'Note',
  help,
  required,
}: {
  form: FormState;
  label?: string;
  help?: string;
  required?: boolean;
}) {
  return (
    <TextAreaField
      label={label}
      rows={2}
      maxLength={3500}
      help={help}
      required={required}
      optional={!required}
      {...fieldOf(form, 'note')}
    />
  );
}

function Moved({ form }: { form: FormState }) {
  const field = (name: string) => ({
    label: writeLabels[name]!,
    inputMode: 'numeric' as const,
    size: 'short' as const,
    ...fieldOf(form, name),
  });
  return (
    <>
      <Field {...field('animals')} help="All together; left empty, adults and juveniles are added up." />
      <div class="field-row">
        <Field {...field('adults')} optional />
        <Field {...field('juveniles')} optional />
      </div>
    </>
  );
}

function Feed({ form, offered }: Props) {
  return (
    <>
      <Field
        label={writeLabels.food!}
        maxLength={80}
        list={offered.foods}
        help="What they got: leaf litter, fish flake, vegetables."
        {...fieldOf(form, 'food')}
      />
      {offered.contacts && <FeederField form={form} choices={offered.contacts} />}
      <Note form={form} />
    </>
  );
}

function Water({ form, offered }: Props) {
  const unit = form.values.amountUnit ?? offered.volumeUnits[0]?.value;
  return (
    <>
      <Field
        label={writeLabels.amount!}
        inputMode="decimal"
        size="short"
        unit={{ name: 'amountUnit', value: String(unit), options: offered.volumeUnits }}
        required
        {...fieldOf(form, 'amount')}
      />
      <Note form={form} />
    </>
  );
}

function Addition({ form, offered }: Props) {
  return (
    <>
      <Moved form={form} />
      <SelectField
        label={writeLabels.fromId!}
        empty="From outside"
        options={offered.others.map(({ id, code }) => ({ value: String(id), label: code }))}
        help="From another culture, it is written in both diaries at once. Two lines stay mixed for good."
        {...fieldOf(form, 'fromId')}
      />
      {offered.apart.length > 0 && (
        <p class="quiet">
          Not offered, because their lines are kept apart from this one: {someCodes(offered.apart)}.
        </p>
      )}
      <Note form={form} help="From outside: who from, and how they arrived." />
    </>
  );
}

function DieOff({ form }: Props) {
  return (
    <>
      <Field
        label={writeLabels.lost!}
        inputMode="decimal"
        size="short"
        unit="%"
        help="Of all that lived in it: half is 50."
        required
        {...fieldOf(form, 'lost')}
      />
      <ChoiceField
        label={writeLabels.sure!}
        options={[
          { value: 'roughly', label: 'Roughly', help: 'within 10 points' },
          { value: 'counted', label: 'Counted', help: 'within 5 points' },
        ]}
        {...fieldOf(form, 'sure')}
      />
      <Note form={form} help="What it looked like: dry, mouldy, after a new food." />
    </>
  );
}

function Harvest({ form, offered }: Props) {
  return (
    <>
      <Moved form={form} />
      {offered.floor && (
        <p class="quiet">
          The effective size is about {formatNumber(offered.floor.now)} now. {floorWords(offered.floor)}
        </p>
      )}
      <Note form={form} label="What for" help="Food for others, given away, sick animals." required />
    </>
  );
}

/** The fields of one kind of entry, and no others. */
export function WriteFields(props: Props & { kind: WrittenKind }) {
  const { form, offered } = props;
  return (
    <>
      <OwnFields {...props} />
      {offered.contacts && <ToolsFields form={form} choices={offered.contacts} />}
    </>
  );
}

function OwnFields({ kind, ...props }: Props & { kind: WrittenKind }) {
  const { form, offered } = props;
  switch (kind) {
    case 'feed':
      return <Feed {...props} />;
    case 'water':
      return <Water {...props} />;
    case 'harvest':
      return <Harvest {...props} />;
    case 'addition':
      return <Addition {...props} />;
    case 'die-off':
      return <DieOff {...props} />;
    case 'mites':
      return (
        <>
          <CheckField label="Put it in quarantine too" {...checkOf(form, 'quarantineToo')} />
          <Note form={form} help="Which, how many, where." />
        </>
      );
    case 'move':
      return (
        <>
          <SelectField
            label={writeLabels.placeId!}
            empty="Choose a place"
            options={offered.places.map(({ id, name }) => ({ value: String(id), label: name }))}
            required
            {...fieldOf(form, 'placeId')}
          />
          <Note form={form} />
        </>
      );
    case 'retirement':
      return (
        <>
          <ChoiceField
            label={writeLabels.why!}
            options={Object.entries(retirementReasons).map(([value, label]) => ({ value, label }))}
            required
            {...fieldOf(form, 'why')}
          />
          <Note form={form} />
        </>
      );
    case 'quarantine':
      return <Note form={form} label="Why" required />;
    case 'note':
      return <Note form={form} required />;
    default:
      return <Note form={form} />;
  }
}
