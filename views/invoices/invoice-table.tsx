import type { LineKind } from '../../shared/invoices/tax.ts';
import { Latin } from '../layout/code.tsx';
import { Money } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { taxWords } from './say.ts';
import { sayInvoice } from './say-worked-out.ts';

type Line = {
  kind: LineKind;
  words: string;
  scientificName: string;
  detail: string;
  quantity: number;
  priceMinor: number;
  totalMinor: number;
};

type Tax = {
  name: string;
  rateThousandths: number;
  mode: 'included' | 'added';
  onGoods: boolean;
  onCarriage: boolean;
  baseMinor: number;
  taxMinor: number;
};

export type InvoiceTableProps = {
  lines: readonly Line[];
  taxes: readonly Tax[];
  netMinor: number;
  totalMinor: number;
  currency: string;
  locale?: string;
  caption: string;
};

function columnsFor(currency: string, locale: string | undefined): Column<Line>[] {
  return [
    {
      key: 'what',
      head: 'What',
      cell: ({ words, scientificName, detail }) => (
        <>
          {words} {scientificName && <Latin>{scientificName}</Latin>}
          {detail && <span class="cell-note">{detail}</span>}
        </>
      ),
    },
    {
      key: 'quantity',
      head: 'Groups',
      numeric: true,
      cell: (line) => (line.scientificName ? line.quantity : ''),
    },
    {
      key: 'price',
      head: 'Price of one',
      numeric: true,
      cell: (line) => <Money minor={line.priceMinor} currency={currency} locale={locale} />,
    },
    {
      key: 'amount',
      computed: 'invoice',
      head: 'Amount',
      numeric: true,
      cell: (line) => <Money minor={line.totalMinor} currency={currency} locale={locale} />,
    },
  ];
}

function Sum(props: { label: string; minor: number; currency: string; locale?: string }) {
  return (
    <tr>
      <th scope="row" colSpan={3}>
        {props.label}
      </th>
      <td class="numeric" data-computed="invoice">
        <Money minor={props.minor} currency={props.currency} locale={props.locale} />
      </td>
    </tr>
  );
}

/** The lines of an invoice, its taxes and what it comes to. */
export function InvoiceTable(props: InvoiceTableProps) {
  const { lines, taxes, netMinor, totalMinor, currency, locale, caption } = props;
  const money = { currency, locale };
  return (
    <>
      <DataTable
        caption={caption}
        hideCaption
        columns={columnsFor(currency, locale)}
        rows={lines}
        rowKey={(line) => lines.indexOf(line)}
        foot={
          <>
            {taxes.length > 0 && <Sum label="Without tax" minor={netMinor} {...money} />}
            {taxes.map((tax, index) => (
              <Sum key={index} label={taxWords(tax)} minor={tax.taxMinor} {...money} />
            ))}
            <Sum label="Total" minor={totalMinor} {...money} />
          </>
        }
      />
      <WorkedOut
        of="invoice"
        so={sayInvoice(props)}
        here={[
          {
            term: 'Lines',
            value: lines.map((line) => (
              <span key={lines.indexOf(line)} class="cell-line">
                {line.quantity} × <Money minor={line.priceMinor} {...money} />
              </span>
            )),
          },
          ...taxes.map((tax) => ({
            term: taxWords(tax),
            value: <Money minor={tax.baseMinor} {...money} />,
            note:
              tax.mode === 'included'
                ? 'without tax it is on this; the prices hold it'
                : 'is on this and comes on top',
          })),
        ]}
      />
    </>
  );
}
