import { groupsField } from '../../shared/orders/form.ts';
import { animalsPerGroup, makeUpWords } from '../../shared/orders/make-up.ts';
import { Actions, Button } from '../layout/button.tsx';
import { Code } from '../layout/code.tsx';
import {
  CheckField,
  checkOf,
  ErrorSummary,
  Field,
  FieldSet,
  Form,
  type FormState,
  fieldOf,
} from '../layout/form.tsx';
import { formatCount, formatDay, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Ago, Estimate } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { type OrderLineRow, SpeciesName } from './order-lines.tsx';

/** A culture that animals of a line could come from. */
export type Candidate = {
  id: number;
  code: string;
  line: string | null;
  place: string | null;
  median: number | null;
  lower: number | null;
  upper: number | null;
  /** Days since the last count; null when it was never counted. */
  countedDaysAgo: number | null;
  spareGroups: number;
  spareAnimals: number;
  /** When it can spare a group more, if that can be foreseen. */
  readyOn: string | null;
  limitedBy: string | null;
  /** The effective size that one group less leaves, where that is small. */
  smallEffective: number | null;
  /** Why it must not fill this line beside what fills it already. */
  apart: string | null;
  /** The one somebody came from. */
  chosen: boolean;
};

export type LineToFill = {
  line: OrderLineRow;
  /** Cultures that can spare a group, and some that cannot. */
  able: readonly Candidate[];
  unable: readonly Candidate[];
  /** How many more cultures there are than are shown. */
  notShown: number;
};

export type ReserveFormProps = {
  furniture: Furniture;
  number: number;
  lines: readonly LineToFill[];
  form: FormState;
};

function EstimateCell({ row, locale }: { row: Candidate; locale?: string }) {
  if (row.median === null || row.lower === null || row.upper === null) return <>not known</>;
  return (
    <Estimate
      median={row.median}
      lower={row.lower}
      upper={row.upper}
      locale={locale}
      ageDays={row.countedDaysAgo ?? undefined}
    />
  );
}

/** What holds a culture back, in words, and when it is over. */
function limitWords(row: Candidate, locale?: string): string {
  const reasons: Record<string, string> = {
    'count too old': 'its count is too old',
    reserve: 'the rest is its reserve',
    adults: 'too few adults',
    promised: 'the rest is promised',
    health: 'its health',
  };
  const why = row.limitedBy ? (reasons[row.limitedBy] ?? row.limitedBy) : '';
  const when = row.readyOn ? `a group more about ${formatDay(row.readyOn, locale, 'month-day')}` : '';
  return [why, when].filter(Boolean).join('; ');
}

function spareWords(row: Candidate, locale?: string) {
  const limit = limitWords(row, locale);
  return (
    <>
      {row.spareGroups > 0 ? <strong>{formatCount(row.spareGroups, 'group')}</strong> : 'no group'}
      <span class="quiet"> ({formatCount(row.spareAnimals, 'animal')})</span>
      {limit && row.spareGroups === 0 && <span class="quiet cell-note">{limit}</span>}
      {row.apart && <span class="cell-note">{row.apart}</span>}
      {row.smallEffective !== null && row.spareGroups > 0 && (
        <span class="quiet cell-note">
          a group less leaves an effective size of about {formatNumber(row.smallEffective, locale)}
        </span>
      )}
    </>
  );
}

function columnsFor(fill: LineToFill, form: FormState, locale?: string): Column<Candidate>[] {
  const name = fill.line.scientificName;
  return [
    {
      key: 'code',
      head: 'Culture',
      cell: (row) => (
        <>
          <Code href={`/cultures/${row.code}`}>{row.code}</Code>
          {row.line && <span class="quiet"> {row.line}</span>}
          {row.chosen && <span class="quiet cell-note">You came from this one.</span>}
        </>
      ),
    },
    { key: 'place', head: 'Place', cell: (row) => row.place ?? 'no place' },
    { key: 'estimate', head: 'Animals', cell: (row) => <EstimateCell row={row} locale={locale} /> },
    {
      key: 'counted',
      head: 'Counted',
      cell: (row) => (row.countedDaysAgo === null ? 'never' : <Ago days={row.countedDaysAgo} />),
    },
    { key: 'spare', head: 'Can spare', cell: (row) => spareWords(row, locale) },
    {
      key: 'take',
      head: 'Reserve',
      phoneWide: true,
      cell: (row) => (
        <Field
          label={`Groups of ${name} from ${row.code}`}
          hideLabel
          {...fieldOf(form, groupsField(fill.line.id, row.id))}
          type="number"
          inputMode="numeric"
          size="short"
          unit="groups"
        />
      ),
    },
  ];
}

function Candidates(props: {
  fill: LineToFill;
  rows: readonly Candidate[];
  form: FormState;
  locale?: string;
  caption: string;
}) {
  return (
    <DataTable
      caption={props.caption}
      hideCaption
      columns={columnsFor(props.fill, props.form, props.locale)}
      rows={props.rows}
      rowKey={(row) => row.id}
      class="reserve-table"
    />
  );
}

function hasValue(form: FormState, fill: LineToFill, rows: readonly Candidate[]): boolean {
  return rows.some((row) => {
    const field = fieldOf(form, groupsField(fill.line.id, row.id));
    return field.error !== undefined || (field.value != null && field.value !== '');
  });
}

function LineSection({ fill, form, locale }: { fill: LineToFill; form: FormState; locale?: string }) {
  const { line, able, unable, notShown } = fill;
  const missing = line.groups - line.has;
  const name = line.scientificName;
  return (
    <section>
      <h3>
        {formatCount(missing, 'group')} of <SpeciesName {...line} />
      </h3>
      <p class="quiet">
        {animalsPerGroup(line)} animals each: {makeUpWords(line)}
      </p>
      {line.separateLines && <p>Unrelated starts: take each group from another line.</p>}
      {able.length === 0 ? (
        <p>No culture of this species can spare a group now.</p>
      ) : (
        <Candidates
          fill={fill}
          rows={able}
          form={form}
          locale={locale}
          caption={`Cultures of ${name} that can spare a group`}
        />
      )}
      {unable.length > 0 && (
        <details open={hasValue(form, fill, unable)}>
          <summary>
            {formatCount(unable.length, 'culture')} that cannot spare a group
            {notShown > 0 && ` (and ${notShown} more that are not shown)`}
          </summary>
          <Candidates
            fill={fill}
            rows={unable}
            form={form}
            locale={locale}
            caption={`Cultures of ${name} that cannot spare a group`}
          />
        </details>
      )}
    </section>
  );
}

function labelsFor(lines: readonly LineToFill[]): Record<string, string> {
  const labels: Record<string, string> = { overrideReason: 'Reason' };
  for (const { line, able, unable } of lines)
    for (const row of [...able, ...unable]) labels[groupsField(line.id, row.id)] = row.code;
  return labels;
}

/** Groups to reserve, culture by culture; all that is entered is reserved at once, or nothing. */
export function ReserveForm({ furniture, number, lines, form }: ReserveFormProps) {
  if (lines.length === 0) return null;
  const overriding = checkOf(form, 'override');
  const reason = fieldOf(form, 'overrideReason');
  return (
    <section id="reserve">
      <h2>Reserve animals</h2>
      <ErrorSummary
        errors={form.errors}
        labels={labelsFor(lines)}
        title="Nothing is reserved yet. What to mend:"
      />
      <Form furniture={furniture} action={`/orders/${number}/reserve`}>
        {lines.map((fill) => (
          <LineSection key={fill.line.id} fill={fill} form={form} locale={furniture.locale} />
        ))}
        <details open={overriding.checked || reason.error !== undefined || Boolean(reason.value)}>
          <summary>Reserve more than can be spared</summary>
          <FieldSet
            legend="Your decision"
            help="The rest is what a culture needs to keep growing. What you decide is kept with your reason and stands on the packing sheet."
          >
            <CheckField label="Reserve it even where it is not spare" {...overriding} />
            <Field label="Reason" {...reason} size="long" maxLength={500} help="At least a few words." />
          </FieldSet>
        </details>
        <Actions>
          <Button kind="main">Reserve</Button>
        </Actions>
      </Form>
    </section>
  );
}
