import { type OrderState, orderStates, stateWords } from '../../shared/orders/states.ts';
import { LinkButton } from '../layout/button.tsx';
import { Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { chosenOf, FilterBar } from '../layout/filter-bar.tsx';
import { Field, SelectField } from '../layout/form.tsx';
import { formatCount, formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Notice } from '../layout/notice.tsx';
import { Day, Money } from '../layout/number.tsx';
import { Pager } from '../layout/pager.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { sayTotal, type TotalledOrder } from './say-total.ts';
import { StateWord } from './state-word.tsx';

export type OrderRow = {
  number: number;
  state: OrderState;
  customerName: string;
  dispatchOn: string | null;
  /** Its day has come or is over, and it has not left. */
  due: 'today' | 'late' | null;
  contents: readonly { groups: number; scientificName: string }[];
  currency: string;
  /** Null for those who see no prices. */
  totalMinor: number | null;
};

export type OrdersPageProps = {
  furniture: Furniture;
  rows: readonly OrderRow[];
  total: number;
  page: number;
  pageSize: number;
  pageHref: (page: number) => string;
  filter: { state: string; words: string; from: string; to: string };
  filtered: boolean;
  counts: ReadonlyMap<OrderState, number>;
  /** Days on which confirmed orders leave. */
  days: readonly { day: string; orders: number }[];
  /** Days of drafts, for which animals can be proposed. */
  draftDays: readonly { day: string; orders: number }[];
  mayWrite: boolean;
  /** One order with what its total is added up from; null for those who see no prices. */
  example: TotalledOrder | null;
  /** Numbers of orders with losses that nobody has looked at. */
  losses: readonly number[];
  /** Requests from the public list that wait for an answer. */
  requests: number;
  /** Mails to customers that did not go out for certain. */
  openMails: number;
};

const due = { today: 'leaves today', late: 'its day is over' } as const;

function Dispatch({ row, locale }: { row: OrderRow; locale?: string }) {
  if (!row.dispatchOn) return <>no day yet</>;
  return (
    <>
      <Day iso={row.dispatchOn} form="weekday" locale={locale} />
      {row.due && (
        <span class="cell-note nowrap">
          <Mark kind={row.due === 'late' ? 'harm' : 'needs-you'} /> {due[row.due]}
        </span>
      )}
    </>
  );
}

function columnsFor(mayWrite: boolean, locale?: string): Column<OrderRow>[] {
  const columns: Column<OrderRow>[] = [
    {
      key: 'order',
      head: 'Order',
      cell: (row) => (
        <>
          <a href={`/orders/${row.number}`}>Order {row.number}</a> for {row.customerName}
        </>
      ),
    },
    { key: 'state', head: 'State', cell: (row) => <StateWord state={row.state} /> },
    { key: 'dispatch', head: 'Dispatch', cell: (row) => <Dispatch row={row} locale={locale} /> },
    {
      key: 'what',
      head: 'What',
      phoneWide: true,
      cell: (row) =>
        row.contents.map((one, index) => (
          <span key={`${one.scientificName} ${index}`} class="cell-line">
            {formatCount(one.groups, 'group')} of <Latin>{one.scientificName}</Latin>
          </span>
        )),
    },
  ];
  if (mayWrite)
    columns.push({
      key: 'total',
      head: 'Total',
      numeric: true,
      computed: 'total',
      cell: (row) =>
        row.totalMinor !== null && <Money minor={row.totalMinor} currency={row.currency} locale={locale} />,
    });
  return columns;
}

/** The choices of states, each with how many orders are in it. */
function stateOptions(counts: ReadonlyMap<OrderState, number>) {
  const n = (states: readonly OrderState[]) =>
    states.reduce((sum, state) => sum + (counts.get(state) ?? 0), 0);
  return [
    { value: 'open', label: `Not sent yet (${n(['draft', 'confirmed', 'packed'])})` },
    ...orderStates.map((state) => ({ value: state, label: `${stateWords[state]} (${n([state])})` })),
    { value: 'all', label: `All (${n(orderStates)})` },
  ];
}

type DaysProps = {
  title: string;
  days: OrdersPageProps['days'];
  href: (day: string) => string;
  /** What there are of on a day. */
  what: string;
  locale?: string;
};

/** Something to do for all orders of a day, above the list. */
function Days({ title, days, href, what, locale }: DaysProps) {
  if (days.length === 0) return null;
  return (
    <section class="packing-days">
      <h2>{title}</h2>
      <ul>
        {days.map(({ day, orders }) => (
          <li key={day}>
            <LinkButton href={href(day)}>
              <span>
                <Day iso={day} form="weekday" locale={locale} />, {formatCount(orders, what)}
              </span>
            </LinkButton>
          </li>
        ))}
      </ul>
    </section>
  );
}

function AllDays(props: Pick<OrdersPageProps, 'days' | 'draftDays'> & { locale?: string }) {
  const { days, draftDays, locale } = props;
  return (
    <>
      <Days
        title="Packing sheets"
        days={days}
        href={(day) => `/packing-sheets.pdf?day=${day}`}
        what="order"
        locale={locale}
      />
      <Days
        title="Propose animals"
        days={draftDays}
        href={(day) => `/orders/propose?day=${day}`}
        what="draft"
        locale={locale}
      />
    </>
  );
}

function NoRows({ filtered, mayWrite }: Pick<OrdersPageProps, 'filtered' | 'mayWrite'>) {
  if (filtered)
    return (
      <Empty
        title="No order fits what you asked for."
        step={{ href: '/orders?state=all', label: 'Show all' }}
      />
    );
  if (!mayWrite) return <Empty title="No order waits to be packed or sent." />;
  return (
    <Empty
      title="No order waits to be packed or sent."
      step={{ href: '/orders/new', label: 'Write an order down' }}
    />
  );
}

function LostMails({ count }: { count: number }) {
  if (count === 0) return null;
  return (
    <Notice tone="needs-you" links={[{ href: '/mails?open=yes', label: 'Look at them' }]}>
      {formatCount(count, 'mail')} to customers did not go out for certain.
    </Notice>
  );
}

function NewRequests({ requests }: Pick<OrdersPageProps, 'requests'>) {
  if (requests === 0) return null;
  return (
    <Notice tone="needs-you" links={[{ href: '/requests', label: 'Look at them' }]}>
      {formatCount(requests, 'request')} from the public list {requests === 1 ? 'waits' : 'wait'} for you.
    </Notice>
  );
}

function NewLosses({ losses }: Pick<OrdersPageProps, 'losses'>) {
  if (losses.length === 0) return null;
  return (
    <Notice
      tone="needs-you"
      links={losses.map((number) => ({ href: `/orders/${number}#arrival`, label: `Order ${number}` }))}
    >
      {formatCount(losses.length, 'customer')} reported losses.
    </Notice>
  );
}

function Filters({ furniture, filter, counts, filtered }: OrdersPageProps) {
  return (
    <FilterBar
      action="/orders"
      label="Find orders"
      clearHref={filtered ? '/orders' : undefined}
      chosen={[
        chosenOf(stateOptions(counts), filter.state),
        filter.words && `“${filter.words}”`,
        filter.from && `from ${formatDay(filter.from, furniture.locale)}`,
        filter.to && `to ${formatDay(filter.to, furniture.locale)}`,
      ]}
    >
      <SelectField label="State" name="state" value={filter.state} options={stateOptions(counts)} />
      <Field label="Number or customer" name="words" type="search" value={filter.words} />
      <Field label="Dispatch from" name="from" type="date" value={filter.from} class="desk-only" />
      <Field label="Dispatch to" name="to" type="date" value={filter.to} class="desk-only" />
    </FilterBar>
  );
}

/** Orders by their dispatch day. */
export function OrdersPage(props: OrdersPageProps) {
  const { furniture, rows, total, page, pageSize, pageHref, filtered, mayWrite } = props;
  const { days, draftDays } = props;
  return (
    <Shell
      furniture={furniture}
      title="Orders"
      purpose="Who gets which animals and when: reserved, confirmed, packed and sent, step by step."
      width="wide"
      actions={
        <>
          {mayWrite && (
            <LinkButton href="/orders/new" kind="main">
              New order
            </LinkButton>
          )}
          <LinkButton href="/parcels/packing">Packing day</LinkButton>
          {mayWrite && <LinkButton href="/invoices">Invoices</LinkButton>}
        </>
      }
    >
      <NewRequests requests={props.requests} />
      <NewLosses losses={props.losses} />
      <LostMails count={props.openMails} />
      <AllDays days={days} draftDays={draftDays} locale={furniture.locale} />
      <Filters {...props} />
      {rows.length === 0 ? (
        <NoRows filtered={filtered} mayWrite={mayWrite} />
      ) : (
        <>
          <DataTable
            caption="Orders"
            hideCaption
            columns={columnsFor(mayWrite, furniture.locale)}
            rows={rows}
            rowKey={(row) => row.number}
            rowTone={(row) => (row.due === 'late' ? 'harm' : row.due === 'today' ? 'needs-you' : undefined)}
          />
          <Pager
            page={page}
            pageSize={pageSize}
            total={total}
            href={pageHref}
            what={total === 1 ? 'order' : 'orders'}
            locale={furniture.locale}
          />
          {mayWrite && <WorkedOut of="total" so={sayTotal(props.example, furniture.locale)} />}
        </>
      )}
    </Shell>
  );
}
