import { LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { chosenOf, FilterBar } from '../layout/filter-bar.tsx';
import { ChoiceField, Field } from '../layout/form.tsx';
import { formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Day, Money } from '../layout/number.tsx';
import { Pager } from '../layout/pager.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { isOverdue } from './say.ts';

export type InvoiceRow = {
  id: number;
  number: string;
  kind: 'invoice' | 'credit';
  /** The number of the invoice it takes back. */
  credits: string | null;
  issuedOn: string;
  dueOn: string | null;
  totalMinor: number;
  currency: string;
  orderNumber: number;
  buyer: string;
  /** What is open of its order; null where another invoice stands for that. */
  openMinor: number | null;
};

export type InvoicesPageProps = {
  furniture: Furniture;
  rows: readonly InvoiceRow[];
  total: number;
  page: number;
  pageSize: number;
  pageHref: (page: number) => string;
  filter: { show: 'all' | 'open' | 'overdue'; from: string | null; to: string | null; today: string };
};

function Open({ row, today, locale }: { row: InvoiceRow; today: string; locale: string | undefined }) {
  if (row.openMinor === null) return null;
  if (row.openMinor === 0) return <>settled</>;
  const amount = <Money minor={Math.abs(row.openMinor)} currency={row.currency} locale={locale} />;
  if (row.openMinor < 0) return <>{amount} too much</>;
  if (!isOverdue(row, today)) return amount;
  return (
    <span class="nowrap">
      <Mark kind="needs-you" /> {amount} overdue
    </span>
  );
}

function columnsFor(today: string, locale: string | undefined): Column<InvoiceRow>[] {
  return [
    {
      key: 'number',
      head: 'Number',
      cell: (row) => (
        <>
          <a href={`/invoices/${row.id}`}>{row.number}</a>
          {row.kind === 'credit' && <span class="cell-note">credit note for {row.credits}</span>}
        </>
      ),
    },
    { key: 'buyer', head: 'To', cell: (row) => row.buyer },
    {
      key: 'order',
      head: 'Order',
      cell: (row) => <a href={`/orders/${row.orderNumber}`}>Order {row.orderNumber}</a>,
    },
    { key: 'issued', head: 'Written', cell: (row) => <Day iso={row.issuedOn} locale={locale} /> },
    {
      key: 'due',
      head: 'To be paid by',
      cell: (row) => (row.dueOn === null ? '' : <Day iso={row.dueOn} locale={locale} />),
    },
    {
      key: 'total',
      head: 'Total',
      numeric: true,
      computed: 'invoice',
      cell: (row) => <Money minor={row.totalMinor} currency={row.currency} locale={locale} />,
    },
    {
      key: 'open',
      head: 'Open',
      computed: 'invoice',
      numeric: true,
      cell: (row) => <Open row={row} today={today} locale={locale} />,
    },
  ];
}

const shows = [
  { value: 'all', label: 'All' },
  { value: 'open', label: 'Open' },
  { value: 'overdue', label: 'Overdue' },
] as const;

function NoRows({ filter }: Pick<InvoicesPageProps, 'filter'>) {
  if (filter.show !== 'all' || filter.from !== null || filter.to !== null)
    return (
      <Empty title="No invoice is like that." step={{ href: '/invoices', label: 'Show all invoices' }} />
    );
  return (
    <Empty title="No invoices yet." step={{ href: '/orders', label: 'Go to the orders' }}>
      An invoice is written on the page of an order, once it is confirmed.
    </Empty>
  );
}

/** All invoices and credit notes, the latest first. */
export function InvoicesPage(props: InvoicesPageProps) {
  const { furniture, rows, total, page, pageSize, pageHref, filter } = props;
  const isFiltered = filter.show !== 'all' || filter.from !== null || filter.to !== null;
  return (
    <Shell
      furniture={furniture}
      title="Invoices"
      purpose="Numbers without gaps; what was written stays as it was."
      width="wide"
      breadcrumbs={[{ href: '/orders', label: 'Orders' }]}
      actions={
        <>
          <LinkButton href="/invoices/ledger">Ledger as CSV</LinkButton>
          <LinkButton href="/settings/invoices">Taxes and numbers</LinkButton>
        </>
      }
    >
      <FilterBar
        action="/invoices"
        clearHref={isFiltered ? '/invoices' : undefined}
        chosen={[
          chosenOf(shows, filter.show),
          filter.from && `from ${formatDay(filter.from, furniture.locale)}`,
          filter.to && `until ${formatDay(filter.to, furniture.locale)}`,
        ]}
      >
        <ChoiceField label="Which" name="show" value={filter.show} options={[...shows]} hideLabel />
        <Field label="Written from" name="from" type="date" size="short" value={filter.from} />
        <Field label="until" name="to" type="date" size="short" value={filter.to} />
      </FilterBar>
      {rows.length === 0 ? (
        <NoRows filter={filter} />
      ) : (
        <>
          <DataTable
            caption="Invoices"
            hideCaption
            columns={columnsFor(filter.today, furniture.locale)}
            rows={rows}
            rowKey={(row) => row.id}
            rowTone={(row) => (isOverdue(row, filter.today) ? 'needs-you' : undefined)}
          />
          <Pager
            page={page}
            pageSize={pageSize}
            total={total}
            href={pageHref}
            what={total === 1 ? 'invoice' : 'invoices'}
            locale={furniture.locale}
          />
          <WorkedOut of="invoice" />
        </>
      )}
    </Shell>
  );
}
