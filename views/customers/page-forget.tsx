import { LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';

type Until = { invoicesUntil: string | null };

export type ForgetPageProps = {
  furniture: Furniture;
  /** After how many years without an order somebody is listed. */
  years: number;
  inactive: readonly ({ id: number; name: string; city: string; lastOn: string } & Until)[];
  erased: readonly ({ id: number; erasedOn: string; by: string | null } & Until)[];
};

function Kept({ invoicesUntil, locale }: Until & { locale: string | undefined }) {
  return invoicesUntil === null ? <>nothing</> : <Day iso={invoicesUntil} locale={locale} />;
}

function Inactive({ inactive, years, furniture }: ForgetPageProps) {
  const { locale } = furniture;
  if (inactive.length === 0)
    return (
      <Empty title="Nobody has been away for that long.">
        Customers without an order for {formatCount(years, 'year')} are listed here, for you to decide.
      </Empty>
    );
  return (
    <DataTable
      caption="Customers without orders for long"
      hideCaption
      rows={inactive}
      rowKey={(row) => row.id}
      columns={[
        { key: 'name', head: 'Name', cell: (row) => <a href={`/customers/${row.id}`}>{row.name}</a> },
        { key: 'city', head: 'Town', cell: (row) => row.city },
        { key: 'last', head: 'Last order', cell: (row) => <Day iso={row.lastOn} locale={locale} /> },
        { key: 'kept', head: 'Invoices kept until', cell: (row) => <Kept {...row} locale={locale} /> },
        {
          key: 'erase',
          head: 'Erase',
          hideHead: true,
          phoneLabel: '',
          cell: (row) => (
            <LinkButton href={`/customers/${row.id}/erase`} ariaLabel={`Erase ${row.name}`}>
              Erase
            </LinkButton>
          ),
        },
      ]}
    />
  );
}

/** Who could be erased, and who was. */
export function ForgetPage(props: ForgetPageProps) {
  const { furniture, years, erased } = props;
  const { locale } = furniture;
  return (
    <Shell
      furniture={furniture}
      title="Customers to erase"
      purpose={`Those without an order for ${formatCount(years, 'year')}. Nobody is erased without you.`}
      width="wide"
      breadcrumbs={[{ href: '/customers', label: 'Customers' }]}
      actions={<LinkButton href="/settings/invoices">Change the years</LinkButton>}
    >
      <Inactive {...props} />
      {erased.length > 0 && (
        <>
          <h2>Erased</h2>
          <DataTable
            caption="Customers who were erased"
            hideCaption
            rows={erased}
            rowKey={(row) => row.id}
            columns={[
              { key: 'id', head: 'Number', cell: (row) => <a href={`/customers/${row.id}`}>{row.id}</a> },
              { key: 'on', head: 'Erased', cell: (row) => <Day iso={row.erasedOn} locale={locale} /> },
              { key: 'by', head: 'By', cell: (row) => row.by ?? 'after a restore' },
              {
                key: 'kept',
                head: 'Name on invoices until',
                cell: (row) => <Kept {...row} locale={locale} />,
              },
            ]}
          />
        </>
      )}
    </Shell>
  );
}
