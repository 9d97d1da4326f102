import { groupsField } from '../../shared/orders/form.ts';
import { animalsPerGroup, makeUpWords } from '../../shared/orders/make-up.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
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
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type Candidate, Candidates } from './candidates.tsx';
import { type OrderLineRow, SpeciesName } from './order-lines.tsx';

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
      {line.separateLines && <p>Unrelated starts: take each group from a different line of cultures.</p>}
      {able.length === 0 ? (
        <p>No culture of this species can spare a group now.</p>
      ) : (
        <Candidates
          line={line}
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
            line={line}
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
      <p class="actions">
        <LinkButton href={`/orders/${number}/propose`}>Propose</LinkButton>
        <span class="quiet">
          Finds the best cultures for all that is missing; you look, change and reserve.
        </span>
      </p>
      <ErrorSummary
        errors={form.errors}
        labels={labelsFor(lines)}
        title="Nothing is reserved yet. What to mend:"
      />
      <Form furniture={furniture} action={`/orders/${number}/reserve`}>
        {lines.map((fill) => (
          <LineSection key={fill.line.id} fill={fill} form={form} locale={furniture.locale} />
        ))}
        <WorkedOut of={['surplus', 'population']} />
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
