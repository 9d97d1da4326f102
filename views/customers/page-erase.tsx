import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import { formatCount, formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';

export type ErasePageProps = {
  furniture: Furniture;
  customer: { id: number; name: string };
  orders: number;
  /** Numbers of orders that are still to be done. */
  openOrders: readonly number[];
  /** Invoices that must be kept with the name, and until when; null for none. */
  invoices: { count: number; until: string } | null;
  form: FormState;
};

function Stays({ customer, orders, invoices, furniture }: ErasePageProps) {
  const { locale } = furniture;
  return (
    <>
      <h2>What stays, and why</h2>
      <ul>
        {orders > 0 && (
          <li>
            {formatCount(orders, 'order')} with species, groups, amounts and days, without a name: your stock,
            your traces and your books need them.
          </li>
        )}
        {invoices && (
          <li>
            Name and address on {formatCount(invoices.count, 'invoice')} until{' '}
            {formatDay(invoices.until, locale)}: by the years that you set for keeping invoices. After that
            day they go by themselves. <a href="/settings/invoices">Change the years</a>
          </li>
        )}
        <li>How many animals arrived dead or missing, without the customer’s words and photos.</li>
        <li>
          That number {customer.id} was erased: the number alone, so that it is done again when an older
          backup is restored.
        </li>
        <li>
          Backups that were made before, until they are thrown away, and mails in your own mailbox: delete
          those yourself.
        </li>
      </ul>
    </>
  );
}

function ConfirmForm({ furniture, customer, form }: ErasePageProps) {
  return (
    <Form furniture={furniture} action={`/customers/${customer.id}/erase`}>
      <ErrorSummary
        errors={form.errors}
        labels={{ number: 'Number' }}
        title="Nothing was erased. What to mend:"
      />
      <Field
        label={`Type the number of this customer: ${customer.id}`}
        inputMode="numeric"
        size="short"
        required
        {...fieldOf(form, 'number')}
      />
      <Actions>
        <Button kind="harm">Erase this person for good</Button>
        <LinkButton href={`/customers/${customer.id}`}>Leave</LinkButton>
      </Actions>
    </Form>
  );
}

/** Before a person is taken out of the records: what goes, what stays and why. */
export function ErasePage(props: ErasePageProps) {
  const { furniture, customer, openOrders } = props;
  return (
    <Shell
      furniture={furniture}
      title={`Erase ${customer.name}`}
      purpose="This cannot be undone. Give out what is kept of them first, if they have asked for it."
      breadcrumbs={[
        { href: '/customers', label: 'Customers' },
        { href: `/customers/${customer.id}`, label: customer.name },
      ]}
      actions={<LinkButton href={`/customers/${customer.id}/data.zip`}>Their data (ZIP)</LinkButton>}
    >
      <h2>What goes</h2>
      <ul>
        <li>Name, e-mail, telephone, address and notes.</li>
        <li>Mails to them, tracking numbers, and the addresses of their pages.</li>
        <li>What they said of arrivals, and their photos.</li>
        <li>What they wrote when they asked for animals from your list.</li>
        <li>Notes on their orders and payments, and what the record of changes says of them.</li>
      </ul>
      <Stays {...props} />
      {openOrders.length > 0 ? (
        <Notice
          tone="needs-you"
          links={openOrders.map((n) => ({ href: `/orders/${n}`, label: `Order ${n}` }))}
        >
          {openOrders.length === 1 ? 'An order is' : 'Orders are'} still open. Send or cancel{' '}
          {openOrders.length === 1 ? 'it' : 'them'} first.
        </Notice>
      ) : (
        <ConfirmForm {...props} />
      )}
      <p class="quiet">
        What must be kept and what must be erased differs from place to place: your law and your adviser
        decide.
      </p>
    </Shell>
  );
}
