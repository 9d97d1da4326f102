import { ledgerColumns } from '../../shared/invoices/ledger.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { lawDecides } from './say.ts';

const labels = { from: 'From', to: 'Until' };

/** For which days the ledger is wanted, and what its columns hold. */
export function LedgerPage({ furniture, form }: { furniture: Furniture; form: FormState }) {
  return (
    <Shell
      furniture={furniture}
      title="Ledger as CSV"
      purpose="Every line and tax of the invoices and credit notes of a period, and every payment, a row each."
      breadcrumbs={[{ href: '/invoices', label: 'Invoices' }]}
    >
      <Form furniture={furniture} action="/invoices/ledger.csv" method="get">
        <ErrorSummary errors={form.errors} labels={labels} title="What to mend:" />
        <Field label={labels.from} type="date" size="short" required {...fieldOf(form, 'from')} />
        <Field label={labels.to} type="date" size="short" required {...fieldOf(form, 'to')} />
        <Actions>
          <Button kind="main">Save the file</Button>
          <LinkButton href="/invoices">Leave</LinkButton>
        </Actions>
      </Form>
      <h2>Its columns</h2>
      <p>
        The lines of an invoice and its added taxes come to its total; taxes that the prices hold are in the
        lines already. Payments belong to an order, by their own day. Amounts are plain numbers with a point.
      </p>
      <Facts items={ledgerColumns.map(([term, value]) => ({ term, value }))} />
      <p class="quiet">{lawDecides}</p>
    </Shell>
  );
}
