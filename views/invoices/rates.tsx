import { writeRate } from '../../shared/invoices/tax.ts';
import { Day } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';

export type RateRow = {
  id: number;
  name: string;
  rateThousandths: number;
  mode: 'included' | 'added';
  onGoods: boolean;
  onCarriage: boolean;
  fromOn: string;
  untilOn: string | null;
};

export type RatesProps = {
  rates: readonly RateRow[];
  today: string;
  locale?: string | undefined;
  isExempt: boolean;
};

const onWords = ({ onGoods, onCarriage }: RateRow) =>
  onGoods && onCarriage ? 'animals and postage' : onGoods ? 'animals' : 'postage';

function Counts({ rate, today, locale }: { rate: RateRow; today: string; locale: string | undefined }) {
  const { fromOn, untilOn } = rate;
  const word = fromOn > today ? 'not yet: ' : untilOn !== null && untilOn < today ? 'no longer: ' : '';
  return (
    <>
      {word}
      from <Day iso={fromOn} locale={locale} />
      {untilOn !== null && (
        <>
          {' '}
          to <Day iso={untilOn} locale={locale} />
        </>
      )}
    </>
  );
}

function columnsFor(today: string, locale: string | undefined): Column<RateRow>[] {
  return [
    {
      key: 'name',
      head: 'Tax',
      cell: (rate) => <a href={`/settings/invoices/taxes/${rate.id}/edit`}>{rate.name}</a>,
    },
    { key: 'rate', head: 'Rate', numeric: true, cell: (rate) => `${writeRate(rate.rateThousandths)}\u00a0%` },
    {
      key: 'mode',
      head: 'Prices',
      cell: (rate) => (rate.mode === 'included' ? 'hold it' : 'it is added to them'),
    },
    { key: 'on', head: 'On', cell: onWords },
    {
      key: 'counts',
      head: 'Counts',
      cell: (rate) => <Counts rate={rate} today={today} locale={locale} />,
    },
  ];
}

/** The taxes that are or were charged. */
export function Rates({ rates, today, locale, isExempt }: RatesProps) {
  if (isExempt) return <p>No tax is charged: see “Small businesses” below.</p>;
  if (rates.length === 0)
    return <p>None yet, so invoices are written without tax. Add one, or say below that none is charged.</p>;
  return (
    <DataTable
      caption="Taxes"
      hideCaption
      columns={columnsFor(today, locale)}
      rows={rates}
      rowKey={(rate) => rate.id}
    />
  );
}
