import type { Settlement } from '../../shared/invoices/settlement.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ChoiceField, ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Money } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { settledWords } from './say.ts';
import { saySettled } from './say-worked-out.ts';

export type PaymentPageProps = {
  furniture: Furniture;
  order: { number: number; currency: string };
  owedMinor: number;
  settlement: Settlement;
  ways: readonly { id: number; name: string }[];
  form: FormState;
};

const labels = { kind: 'What happened', amount: 'Amount', way: 'How', paidOn: 'Day', note: 'Note' };

function NoteField({ form }: { form: FormState }) {
  return (
    <Field
      label={labels.note}
      size="long"
      maxLength={200}
      optional
      help="Such as the reference on the bank’s statement. It goes when the customer is erased."
      {...fieldOf(form, 'note')}
    />
  );
}

/** Money that came in for an order, or went back. */
export function PaymentPage({ furniture, order, owedMinor, settlement, ways, form }: PaymentPageProps) {
  const path = `/orders/${order.number}`;
  const { term, minor } = settledWords(settlement);
  const said = { currency: order.currency, locale: furniture.locale };
  return (
    <Shell
      furniture={furniture}
      title={`Payment for order ${order.number}`}
      purpose={
        <>
          Money that came in or went back. {term}:{' '}
          <Computed of="invoice">
            <Money minor={minor} {...said} />
          </Computed>
        </>
      }
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: path, label: `Order ${order.number}` },
      ]}
    >
      <Form furniture={furniture} action={`${path}/payments`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <ChoiceField
          label={labels.kind}
          options={[
            { value: 'payment', label: 'Paid', help: 'money came in' },
            { value: 'refund', label: 'Paid back', help: 'money went back' },
          ]}
          required
          {...fieldOf(form, 'kind')}
        />
        <Field
          label={labels.amount}
          inputMode="decimal"
          size="short"
          unit={order.currency}
          required
          help="A part is fine; the rest stays open."
          {...fieldOf(form, 'amount')}
        />
        <ChoiceField
          label={labels.way}
          options={ways.map(({ id, name }) => ({ value: String(id), label: name }))}
          required
          help={<a href="/settings/invoices#ways">Change the ways of paying</a>}
          {...fieldOf(form, 'way')}
        />
        <Field label={labels.paidOn} type="date" size="short" required {...fieldOf(form, 'paidOn')} />
        <NoteField form={form} />
        <Actions>
          <Button kind="main">Write it down</Button>
          <LinkButton href={path}>Leave</LinkButton>
        </Actions>
      </Form>
      <WorkedOut of="invoice" so={[saySettled(owedMinor, settlement, said)]} />
    </Shell>
  );
}
