import { amendsKinds } from '../../shared/arrivals/amends-form.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ChoiceField, ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type AmendsPageProps = { furniture: Furniture; number: number; currency: string; form: FormState };

const kinds = {
  refund: { label: 'Refund', help: 'money back' },
  credit: { label: 'Credit', help: 'off their next order' },
  reship: { label: 'Send again', help: 'on another order' },
} as const;

const labels = { kind: 'What you do', amount: 'Amount', newOrder: 'Order it goes out on', reason: 'Why' };

/** What is done about a loss of an order. */
export function AmendsPage({ furniture, number, currency, form }: AmendsPageProps) {
  const path = `/orders/${number}`;
  return (
    <Shell
      furniture={furniture}
      title="What you do about a loss"
      purpose="It is written down only: pay the money back, or write the other order, where you always do."
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: path, label: `Order ${number}` },
      ]}
    >
      <Form furniture={furniture} action={`${path}/amends`}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <ChoiceField
          label={labels.kind}
          options={amendsKinds.map((value) => ({ value, ...kinds[value] }))}
          required
          {...fieldOf(form, 'kind')}
        />
        <Field
          label={labels.amount}
          inputMode="decimal"
          size="short"
          unit={currency}
          help="For a refund or a credit."
          {...fieldOf(form, 'amount')}
        />
        <Field
          label={labels.newOrder}
          inputMode="numeric"
          size="short"
          help="For animals that are sent again: the number of that order."
          {...fieldOf(form, 'newOrder')}
        />
        <Field label={labels.reason} maxLength={500} size="long" required {...fieldOf(form, 'reason')} />
        <Actions>
          <Button kind="main">Write it down</Button>
          <LinkButton href={path}>Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
