import { countryName } from '../../shared/settings/countries.ts';
import { LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilterBar } from '../layout/filter-bar.tsx';
import { CheckField, Field } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { Pager } from '../layout/pager.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';

export type CustomerRow = {
  id: number;
  name: string;
  email: string;
  postcode: string;
  city: string;
  country: string;
  openOrders: number;
  lastOrderOn: string | null;
};

export type CustomersPageProps = {
  furniture: Furniture;
  rows: readonly CustomerRow[];
  total: number;
  page: number;
  pageSize: number;
  pageHref: (page: number) => string;
  filter: { words: string; retired: boolean };
};

function columnsFor(locale: string | undefined): Column<CustomerRow>[] {
  return [
    { key: 'name', head: 'Name', cell: (row) => <a href={`/customers/${row.id}`}>{row.name}</a> },
    {
      key: 'place',
      head: 'Town',
      cell: (row) =>
        [`${row.postcode} ${row.city}`.trim(), countryName(row.country)].filter(Boolean).join(', '),
    },
    { key: 'email', head: 'E-mail', cell: (row) => row.email, hideOnPhone: true },
    { key: 'open', head: 'Open orders', cell: (row) => row.openOrders || 'none', numeric: true },
    {
      key: 'last',
      head: 'Last order',
      cell: (row) => (row.lastOrderOn === null ? 'none yet' : <Day iso={row.lastOrderOn} locale={locale} />),
    },
  ];
}

function NoRows({ filter }: { filter: CustomersPageProps['filter'] }) {
  if (filter.words !== '')
    return (
      <Empty
        title={`No customer has words that begin with “${filter.words}”.`}
        step={{ href: '/customers', label: 'Show all customers' }}
      />
    );
  if (filter.retired) return <Empty title="Nobody has been put away." />;
  return (
    <Empty
      title="No customers yet."
      step={{ href: '/customers/new', label: 'Write down the first customer' }}
    />
  );
}

/** All customers, found by the beginning of any word. */
export function CustomersPage(props: CustomersPageProps) {
  const { furniture, rows, total, page, pageSize, pageHref, filter } = props;
  return (
    <Shell
      furniture={furniture}
      title="Customers"
      purpose="Where the boxes go, and in which language and units the papers in them are."
      width="wide"
      actions={
        <>
          <LinkButton href="/customers/new" kind="main">
            New customer
          </LinkButton>
          <LinkButton href="/customers/forget">To erase</LinkButton>
        </>
      }
    >
      <FilterBar
        action="/customers"
        label="Find customers"
        submit="Find"
        clearHref={filter.words !== '' || filter.retired ? '/customers' : undefined}
      >
        <Field label="Name, town or e-mail" name="words" type="search" value={filter.words} />
        <CheckField label="Put away" name="retired" checked={filter.retired} />
      </FilterBar>
      {rows.length === 0 ? (
        <NoRows filter={filter} />
      ) : (
        <>
          <DataTable
            caption="Customers"
            hideCaption
            columns={columnsFor(furniture.locale)}
            rows={rows}
            rowKey={(row) => row.id}
          />
          <Pager
            page={page}
            pageSize={pageSize}
            total={total}
            href={pageHref}
            what="customers"
            locale={furniture.locale}
          />
        </>
      )}
    </Shell>
  );
}
