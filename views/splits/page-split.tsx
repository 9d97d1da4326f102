import type { Objection } from '../../shared/cultures/objections.ts';
import { needWords, type StartNeeds } from '../../shared/splits/safe-start.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { CultureHeading } from '../cultures/part-about.tsx';
import { Objections } from '../cultures/part-objections.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Facts } from '../layout/facts.tsx';
import {
  ChoiceField,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
  type Option,
  SelectField,
  TextAreaField,
} from '../layout/form.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type ContactChoices, contactLabels, ToolsFields } from '../traces/part-contact-fields.tsx';
import { type StartEffectsProps, StartEffectWords, UsualStarts } from './part-start.tsx';
import { saySplit } from './say-worked-out.ts';

type Named = { id: number; name: string };

export type SplitPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  place: string | null;
  cautions: string;
  health: string;
  /** The parent's number, in words. */
  known: string;
  reserve: number | null;
  promised: number;
  /** Animals that could be promised if none were yet. */
  promisable: number | null;
  /** Animals that can leave without harm to the reserve or to what is promised; null when nothing is known. */
  free: number | null;
  /** The fewest animals that make a safe start, and how safe that is. */
  safeStart: { animals: number; probability: number } | null;
  needs: StartNeeds;
  enclosures: Named[];
  places: Named[];
  lines: Named[];
  seedingUnits: readonly Option[];
  form: FormState;
  today: string;
  objections: Objection[];
  contacts: ContactChoices;
  /** How old the substrate is by the species' rhythm; null where it is never renewed. */
  substrate: { overdueDays: number; reason: string } | null;
  /** What starts of some sizes do. */
  start: StartEffectsProps;
};

const labels: Record<string, string> = {
  adults: 'Adults',
  juveniles: 'Juveniles',
  sure: 'How sure is that number',
  seeding: 'Old substrate moved along',
  substrate: 'Substrate renewed here',
  code: 'Code',
  placeId: 'Place',
  enclosureId: 'Enclosure',
  lineId: 'Line',
  onDay: 'Day',
  note: 'Note',
  reason: 'Why all the same',
  ...contactLabels,
};

const options = (list: Named[]) => list.map(({ id, name }) => ({ value: String(id), label: name }));

function Known(props: SplitPageProps) {
  const { code, known, reserve, promised, free, safeStart, needs, furniture } = props;
  const number = (value: number) => formatNumber(value, furniture.locale);
  return (
    <>
      <Facts
        columns={2}
        items={[
          { term: `In ${code}`, computed: 'population', value: known },
          reserve !== null && { term: 'Must stay', computed: 'surplus', value: number(Math.ceil(reserve)) },
          promised > 0 && { term: 'Promised to orders', value: number(promised) },
          free !== null && {
            term: 'Can go without harm',
            computed: 'surplus',
            value: <strong>{free > 0 ? formatCount(free, 'animal') : 'none now'}</strong>,
          },
          safeStart !== null && {
            term: 'A safe start',
            computed: 'start',
            value: `${formatCount(safeStart.animals, 'animal')} or more`,
            note: `then ${needWords(needs)} are all but sure`,
          },
        ]}
      />
      <WorkedOut of={['start', 'surplus', 'population']} so={saySplit(props)}>
        <p>
          Nobody sorts a young colony by sex, so each animal that moves is female or male by the species'
          share of females. A start is called safe when {needWords(needs)} are in it with a chance of 95 % or
          more. What can go without harm is what is spare, promised animals taken off.
        </p>
      </WorkedOut>
    </>
  );
}

/** Splitting is when old substrate is renewed: the colony is out of it anyway. */
function Renewed({ form, code, substrate }: Pick<SplitPageProps, 'form' | 'code' | 'substrate'>) {
  const field = fieldOf(form, 'substrate');
  return (
    <FieldSet legend={`What stays in ${code}`}>
      {substrate && substrate.overdueDays >= 0 && (
        <Notice tone="needs-you">{`Old ${substrate.reason}.`}</Notice>
      )}
      <ChoiceField
        label={labels.substrate!}
        options={[
          { value: 'mixed', label: 'mixed with some old', help: 'what lives in it goes on' },
          { value: 'new', label: 'all new' },
          { value: '', label: 'no' },
        ]}
        {...field}
        value={field.value ?? ''}
      />
    </FieldSet>
  );
}

function Trouble({ health, code }: Pick<SplitPageProps, 'health' | 'code'>) {
  if (health === 'quarantine')
    return (
      <Notice tone="needs-you">{code} is in quarantine: a culture split off it starts in quarantine.</Notice>
    );
  if (health === 'mites')
    return (
      <Notice tone="needs-you">Mites were seen in {code}: they go along with animals and substrate.</Notice>
    );
  return null;
}

function Moving({
  form,
  seedingUnits,
  contacts,
  start,
}: Pick<SplitPageProps, 'form' | 'seedingUnits' | 'contacts' | 'start'>) {
  // What the numbers do follows them while they are typed; without a script the table has the usual ones.
  const follow = {
    'hx-get': `${cultureHref(start.code)}/split/start`,
    'hx-trigger': 'input changed delay:300ms',
    'hx-include': '[name=adults], [name=juveniles]',
    'hx-target': '#start-effect',
    'hx-sync': 'closest form:replace',
  };
  const unit = form.values.seedingUnit ?? seedingUnits[0]?.value;
  return (
    <FieldSet legend="What moves">
      <div class="field-row">
        <Field
          label={labels.adults!}
          inputMode="numeric"
          size="short"
          {...fieldOf(form, 'adults')}
          {...follow}
        />
        <Field
          label={labels.juveniles!}
          inputMode="numeric"
          size="short"
          {...fieldOf(form, 'juveniles')}
          {...follow}
        />
      </div>
      <StartEffectWords {...start} />
      <UsualStarts {...start} />
      <ChoiceField
        label={labels.sure!}
        options={[
          { value: 'exact', label: 'Counted' },
          { value: 'about', label: 'About', help: 'give or take a sixth' },
          { value: 'rough', label: 'Roughly', help: 'give or take half' },
        ]}
        {...fieldOf(form, 'sure')}
      />
      <Field
        label={labels.seeding!}
        inputMode="decimal"
        size="short"
        unit={{ name: 'seedingUnit', value: String(unit), options: seedingUnits }}
        help="It brings springtails, mould and all that lives in it."
        {...fieldOf(form, 'seeding')}
        optional
      />
      <ToolsFields form={form} choices={contacts} />
    </FieldSet>
  );
}

function Home({
  form,
  enclosures,
  places,
  lines,
}: Pick<SplitPageProps, 'form' | 'enclosures' | 'places' | 'lines'>) {
  return (
    <FieldSet legend="The new culture">
      <Field
        label={labels.code!}
        size="short"
        maxLength={24}
        help="Left empty, the next free one is taken."
        {...fieldOf(form, 'code')}
      />
      <SelectField
        label={labels.placeId!}
        options={[{ value: '', label: 'No place yet' }, ...options(places)]}
        {...fieldOf(form, 'placeId')}
      />
      <SelectField
        label={labels.enclosureId!}
        options={options(enclosures)}
        {...fieldOf(form, 'enclosureId')}
        required
      />
      <SelectField
        label={labels.lineId!}
        options={[{ value: '', label: 'No line' }, ...options(lines)]}
        {...fieldOf(form, 'lineId')}
      />
    </FieldSet>
  );
}

export function SplitPage(props: SplitPageProps) {
  const { furniture, code, form, today, objections } = props;
  const at = cultureHref(code);
  return (
    <Shell
      furniture={furniture}
      title={`Split ${code}`}
      heading={<CultureHeading code={code}>Split</CultureHeading>}
      purpose={
        <>
          Part of <Latin>{props.scientificName}</Latin>
          {props.place && `, ${props.place},`} starts a culture of its own.
        </>
      }
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: at, label: code },
      ]}
    >
      <Trouble {...props} />
      <Known {...props} />
      <Form furniture={furniture} action={`${at}/split`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <Objections
          objections={objections}
          form={form}
          isOwner={furniture.who?.role === 'owner'}
          submit="Split all the same"
        />
        <Moving {...props} />
        <Renewed {...props} />
        <Home {...props} />
        <Field label={labels.onDay!} type="date" max={today} {...fieldOf(form, 'onDay')} />
        <TextAreaField label={labels.note!} rows={2} maxLength={3500} {...fieldOf(form, 'note')} optional />
        <Actions>
          <Button kind="main">Split</Button>
          <LinkButton href={at}>Leave</LinkButton>
        </Actions>
      </Form>
      {props.cautions && <p class="quiet">{props.cautions}</p>}
    </Shell>
  );
}
