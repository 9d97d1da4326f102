import { makeUpWords } from '../../shared/orders/make-up.ts';
import { lineTotal, orderTotal } from '../../shared/orders/money.ts';
import { Latin } from '../layout/code.tsx';
import { formatCount } from '../layout/format.ts';
import { Mark } from '../layout/mark.tsx';
import { Money } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';

export type OrderLineRow = {
  id: number;
  scientificName: string;
  commonName: string;
  groups: number;
  groupAdults: number;
  groupJuveniles: number;
  groupExtras: number;
  priceMinor: number;
  /** Unrelated starts: each group from another line of cultures. */
  separateLines: boolean;
  /** Groups that are reserved or packed. */
  has: number;
};

export type OrderLinesProps = {
  lines: readonly OrderLineRow[];
  postageMinor: number;
  currency: string;
  locale?: string;
  /** 'reserved' or 'packed'. */
  hasWord: string;
};

/** A species by both its names. */
export function SpeciesName(props: { scientificName: string; commonName: string }) {
  return (
    <>
      <Latin>{props.scientificName}</Latin>
      {props.commonName && <span class="quiet"> {props.commonName}</span>}
    </>
  );
}

function Has({ line, word }: { line: OrderLineRow; word: string }) {
  if (line.has >= line.groups)
    return (
      <span class="nowrap">
        <Mark kind="done" /> all {word}
      </span>
    );
  return (
    <span class="nowrap">
      <Mark kind="needs-you" /> {line.has} of {line.groups} {word}
    </span>
  );
}

function columnsFor({ currency, locale, hasWord }: OrderLinesProps): Column<OrderLineRow>[] {
  return [
    {
      key: 'species',
      head: 'Species',
      cell: (line) => (
        <>
          <SpeciesName {...line} />
          {line.separateLines && (
            <span class="cell-note">Unrelated starts: each group from a different line of cultures</span>
          )}
        </>
      ),
    },
    { key: 'make-up', head: 'One group', cell: (line) => makeUpWords(line) },
    { key: 'groups', head: 'Groups', numeric: true, cell: (line) => line.groups },
    { key: 'has', head: 'Animals', cell: (line) => <Has line={line} word={hasWord} /> },
    {
      key: 'price',
      head: 'Price',
      numeric: true,
      cell: (line) => <Money minor={line.priceMinor} currency={currency} locale={locale} />,
    },
    {
      key: 'total',
      computed: 'total',
      head: 'Sum',
      numeric: true,
      cell: (line) => <Money minor={lineTotal(line)} currency={currency} locale={locale} />,
    },
  ];
}

function Sum(props: { label: string; minor: number; currency: string; locale?: string }) {
  return (
    <tr>
      <th scope="row" colSpan={5}>
        {props.label}
      </th>
      <td class="numeric" data-computed={props.label === 'Total' ? 'total' : undefined}>
        <Money minor={props.minor} currency={props.currency} locale={props.locale} />
      </td>
    </tr>
  );
}

/** What is ordered, what of it is reserved, and what it costs. */
export function OrderLines(props: OrderLinesProps) {
  const { lines, postageMinor, currency, locale } = props;
  const groups = lines.reduce((sum, line) => sum + line.groups, 0);
  return (
    <>
      <DataTable
        caption={`${formatCount(groups, 'group')} in ${formatCount(lines.length, 'line')}`}
        hideCaption
        columns={columnsFor(props)}
        rows={lines}
        rowKey={(line) => line.id}
        foot={
          <>
            <Sum label="Postage" minor={postageMinor} currency={currency} locale={locale} />
            <Sum label="Total" minor={orderTotal(lines, postageMinor)} currency={currency} locale={locale} />
          </>
        }
      />
      <WorkedOut
        of="total"
        here={[
          {
            term: 'Lines',
            value: lines.map((line) => (
              <span key={line.id} class="cell-line">
                {line.groups} × <Money minor={line.priceMinor} currency={currency} locale={locale} />
              </span>
            )),
          },
          { term: 'Postage', value: <Money minor={postageMinor} currency={currency} locale={locale} /> },
        ]}
      />
    </>
  );
}
