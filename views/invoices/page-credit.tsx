import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ChoiceField, ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import { formatMoney } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type CreditPageProps = {
  furniture: Furniture;
  invoice: { id: number; number: string; currency: string; orderNumber: number };
  /** What may still be given back. */
  left: { goods: number; carriage: number };
  /** Nothing of it was given back yet. */
  mayWhole: boolean;
  form: FormState;
};

const labels = {
  extent: 'How much of it',
  goods: 'Given back for animals',
  carriage: 'Given back of the postage',
  reason: 'Why',
};

type AmountProps = {
  name: 'goods' | 'carriage';
  left: number;
  currency: string;
  locale?: string;
  form: FormState;
};

function Amount({ name, left, currency, locale, form }: AmountProps) {
  return (
    <Field
      label={labels[name]}
      inputMode="decimal"
      size="short"
      unit={currency}
      help={`With its taxes; at most ${formatMoney(Math.max(0, left), currency, locale)} is left.`}
      {...fieldOf(form, name)}
    />
  );
}

/** Takes an invoice back, all of it or a part, with a number of its own. */
export function CreditPage({ furniture, invoice, left, mayWhole, form }: CreditPageProps) {
  const kept = form.values.amends;
  const amounts = { currency: invoice.currency, locale: furniture.locale, form };
  return (
    <Shell
      furniture={furniture}
      title={`Credit note for invoice ${invoice.number}`}
      purpose="It gets the next number, says which invoice it is for, and is never changed either."
      breadcrumbs={[
        { href: '/invoices', label: 'Invoices' },
        { href: `/invoices/${invoice.id}`, label: invoice.number },
      ]}
    >
      <Form furniture={furniture} action={`/invoices/${invoice.id}/credit`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        {kept && !Array.isArray(kept) && <input type="hidden" name="amends" value={kept} />}
        <ChoiceField
          label={labels.extent}
          options={[
            {
              value: 'whole',
              label: 'All of it',
              help: 'as if it had not been written',
              disabled: !mayWhole,
            },
            { value: 'part', label: 'A part', help: 'the amounts below' },
          ]}
          required
          {...fieldOf(form, 'extent')}
        />
        <Amount name="goods" left={left.goods} {...amounts} />
        <Amount name="carriage" left={left.carriage} {...amounts} />
        <Field
          label={labels.reason}
          size="long"
          maxLength={300}
          required
          help="It stands on the credit note for good, so name no person in it."
          {...fieldOf(form, 'reason')}
        />
        <Actions>
          <Button kind="main">Write the credit note</Button>
          <LinkButton href={`/invoices/${invoice.id}`}>Leave</LinkButton>
        </Actions>
      </Form>
      <p class="quiet">
        The money itself goes back where you always send it. Write that down as a payment on{' '}
        <a href={`/orders/${invoice.orderNumber}/payments`}>order {invoice.orderNumber}</a>.
      </p>
    </Shell>
  );
}
