import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { InvoiceTable, type InvoiceTableProps } from './invoice-table.tsx';
import { lawDecides } from './say.ts';

export type MakeInvoicePageProps = {
  furniture: Furniture;
  order: { number: number; currency: string };
  /** The number it would get now. */
  number: string;
  buyer: { name: string; address: string };
  /** What is missing in the address. */
  concern: string | null;
  draft: Pick<InvoiceTableProps, 'lines' | 'taxes' | 'netMinor' | 'totalMinor'> & {
    exemptWords: string;
    untaxed: boolean;
  };
  /** A print of what is shown. */
  seen: string;
  /** What it says is not what was looked at before. */
  changed: boolean;
  form: FormState;
};

const labels = { suppliedOn: 'Day of supply' };

/** What wants a look before it is written for good. */
function Concerns({ changed, concern, draft }: MakeInvoicePageProps) {
  return (
    <>
      {changed && (
        <Notice tone="needs-you">
          Nothing was written: the order, the customer or the taxes of that day are not what you looked at.
          Look at it again, then write it.
        </Notice>
      )}
      {concern && <Notice tone="needs-you">The customer’s address: {concern}</Notice>}
      {draft.untaxed && (
        <Notice tone="needs-you" links={[{ href: '/settings/invoices', label: 'Set taxes' }]}>
          No tax is set for this day, so none is charged.
        </Notice>
      )}
    </>
  );
}

/** What the invoice of an order will say, before it is written for good. */
export function MakeInvoicePage(props: MakeInvoicePageProps) {
  const { furniture, order, number, buyer, draft, seen, form } = props;
  const path = `/orders/${order.number}/invoice`;
  return (
    <Shell
      furniture={furniture}
      title={`Invoice of order ${order.number}`}
      purpose="Once written it has a number and is never changed. A mistake is put right with a credit note."
      width="wide"
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: `/orders/${order.number}`, label: `Order ${order.number}` },
      ]}
    >
      <Concerns {...props} />
      <Facts
        items={[
          { term: 'Number, if written now', value: number },
          {
            term: 'To',
            value: buyer.name,
            note: <span class="keep-breaks">{buyer.address}</span>,
          },
        ]}
      />
      <InvoiceTable
        {...draft}
        currency={order.currency}
        locale={furniture.locale}
        caption="What the invoice says"
      />
      {draft.exemptWords && <p>{draft.exemptWords}</p>}
      <Form furniture={furniture} action={path}>
        <ErrorSummary errors={form.errors} labels={labels} />
        <input type="hidden" name="seen" value={seen} />
        <Field
          label={labels.suppliedOn}
          type="date"
          size="short"
          required
          help="The day the animals were handed over. It decides which taxes are charged."
          {...fieldOf(form, 'suppliedOn')}
        />
        <Actions>
          <Button kind="main">Write the invoice</Button>
          <LinkButton href={`/orders/${order.number}`}>Leave</LinkButton>
        </Actions>
      </Form>
      <p class="quiet">{lawDecides}</p>
    </Shell>
  );
}
