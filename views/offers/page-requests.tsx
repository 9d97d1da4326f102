import { countryName } from '../../shared/settings/countries.ts';
import { Empty } from '../layout/empty.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';

export type RequestsRow = {
  id: number;
  state: 'new' | 'taken' | 'refused';
  name: string;
  country: string;
  madeAt: number;
  groups: number;
  orderNumber: number | null;
};

export type RequestsPageProps = { furniture: Furniture; rows: readonly RequestsRow[]; timeZone: string };

export const requestStates = { new: 'waits for you', taken: 'taken', refused: 'refused' } as const;

function columnsFor({ furniture, timeZone }: RequestsPageProps): Column<RequestsRow>[] {
  return [
    {
      key: 'who',
      head: 'From',
      rowHeader: true,
      cell: ({ id, name }) => <a href={`/requests/${id}`}>{name || `Request ${id}, person erased`}</a>,
    },
    { key: 'country', head: 'Country', cell: ({ country }) => (country ? countryName(country) : 'erased') },
    { key: 'groups', head: 'Groups', numeric: true, cell: ({ groups }) => groups },
    {
      key: 'when',
      head: 'Written',
      cell: ({ madeAt }) => <Moment at={madeAt} timeZone={timeZone} locale={furniture.locale} />,
    },
    {
      key: 'state',
      head: 'State',
      cell: ({ state, orderNumber }) =>
        orderNumber === null ? (
          requestStates[state]
        ) : (
          <a href={`/orders/${orderNumber}`}>taken as order {orderNumber}</a>
        ),
    },
  ];
}

/** What strangers asked for on the public list. */
export function RequestsPage(props: RequestsPageProps) {
  const { furniture, rows } = props;
  return (
    <Shell
      furniture={furniture}
      title="Requests"
      purpose="What people asked for on the public list. Nothing is reserved until you take a request and fill its order."
      width="wide"
      breadcrumbs={[{ href: '/offers', label: 'Availability list' }]}
    >
      {rows.length === 0 ? (
        <Empty
          title="No requests yet. They come from the public list, once it is on."
          step={{ href: '/offers', label: 'To the list' }}
        />
      ) : (
        <DataTable
          caption="Requests"
          hideCaption
          columns={columnsFor(props)}
          rows={rows}
          rowKey={({ id }) => id}
          rowTone={({ state }) => (state === 'new' ? 'needs-you' : undefined)}
        />
      )}
    </Shell>
  );
}
