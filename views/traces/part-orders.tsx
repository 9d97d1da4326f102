import type { Contact } from '../../shared/lines/form.ts';
import type { OrderState } from '../../shared/orders/states.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { formatCount } from '../layout/format.ts';
import { type Column, DataTable } from '../layout/table.tsx';
import { StateWord } from '../orders/state-word.tsx';
import { dayWriter, wayWords } from './say.ts';

export type TracedOrderData = {
  number: number;
  state: OrderState;
  /** Null for whoever packs and does not need to know. */
  customerName: string | null;
  way: readonly Contact[];
  harvests: readonly { code: string; scientificName: string; onDay: string; animals: number }[];
};

type Props = { rows: readonly TracedOrderData[]; today: string; locale?: string };

const orderLink = (number: number) => (
  <a class="nowrap" href={`/orders/${number}`}>
    Order {number}
  </a>
);

/** Orders that got animals from cultures that can have been reached before. */
export function TracedOrders({ rows, today, locale }: Props) {
  const day = dayWriter(today, locale);
  const columns: Column<TracedOrderData>[] = [
    { key: 'order', head: 'Order', rowHeader: true, cell: (row) => orderLink(row.number) },
    { key: 'customer', head: 'Customer', cell: (row) => row.customerName },
    { key: 'state', head: 'State', cell: (row) => <StateWord state={row.state} /> },
    {
      key: 'animals',
      head: 'Animals',
      phoneWide: true,
      cell: (row) =>
        row.harvests.map((one) => (
          <span key={`${one.code} ${one.onDay}`} class="cell-line">
            {formatCount(one.animals, 'animal', undefined, locale)} of <Latin>{one.scientificName}</Latin>{' '}
            from <Code href={cultureHref(one.code)}>{one.code}</Code> on {day(one.onDay)}
          </span>
        )),
    },
    { key: 'way', head: 'Way', phoneWide: true, cell: (row) => wayWords(row.way, day) },
  ];
  return (
    <DataTable
      caption="Orders that got animals"
      hideCaption
      columns={columns.filter(
        ({ key }) => key !== 'customer' || rows.some((row) => row.customerName !== null),
      )}
      rows={rows}
      rowKey={(row) => row.number}
    />
  );
}

export type ReservationData = {
  id: number;
  code: string;
  number: number;
  state: OrderState;
  groups: number;
  animals: number;
  customerName: string | null;
};

/** Animals of these cultures that are promised and still here: they can come from elsewhere. */
export function OpenReservations({ rows, locale }: { rows: readonly ReservationData[]; locale?: string }) {
  const columns: Column<ReservationData>[] = [
    { key: 'order', head: 'Order', rowHeader: true, cell: (row) => orderLink(row.number) },
    { key: 'customer', head: 'Customer', cell: (row) => row.customerName },
    { key: 'state', head: 'State', cell: (row) => <StateWord state={row.state} /> },
    {
      key: 'code',
      head: 'Reserved from',
      cell: (row) => <Code href={cultureHref(row.code)}>{row.code}</Code>,
    },
    {
      key: 'groups',
      head: 'Groups',
      numeric: true,
      cell: (row) => `${formatCount(row.groups, 'group', undefined, locale)} (${row.animals} animals)`,
    },
  ];
  return (
    <DataTable
      caption="Open reservations"
      hideCaption
      columns={columns.filter(
        ({ key }) => key !== 'customer' || rows.some((row) => row.customerName !== null),
      )}
      rows={rows}
      rowKey={(row) => row.id}
    />
  );
}
