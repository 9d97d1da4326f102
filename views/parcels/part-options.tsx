import { optionFields } from '../../shared/parcels/choose-form.ts';
import type { RefusedOption } from '../../shared/parcels/loads.ts';
import type { Picked } from '../../shared/parcels/packing-day-form.ts';
import type { ParcelOption } from '../../shared/parcels/parcel-options.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { exactTemp } from '../climate/say.ts';
import { formatDay, formatMoney } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { type Column, DataTable } from '../layout/table.tsx';
import { loadWords } from './say-packing.ts';

export type RefusedShown = RefusedOption & { link: Picked | null };

export type OptionsListProps = {
  furniture: Furniture;
  units: UnitSystem;
  currency: string;
  number: number;
  options: readonly ParcelOption[];
  refused: readonly RefusedShown[];
  closed: readonly { date: string; why: string }[];
};

const hrefOf = (number: number, picked: Picked) =>
  `/parcels/orders/${number}?${new URLSearchParams(optionFields(picked)).toString()}#look`;

const refusedWords = ({ box, pack, packs, way }: RefusedOption): string => {
  if (box === null) return way === 'held' ? 'held at the counter' : 'anything';
  return loadWords({ box, pack, packs, way: way ?? 'delivered' });
};

function optionColumns({ furniture, units, currency, number }: OptionsListProps): Column<ParcelOption>[] {
  const { locale } = furniture;
  const temp = (tempC: number) => exactTemp(tempC, units, locale);
  return [
    {
      key: 'day',
      head: 'Leaves',
      computed: 'parcel',
      cell: ({ dispatchOn }) => formatDay(dispatchOn, locale, 'weekday'),
    },
    {
      key: 'what',
      head: 'In',
      rowHeader: true,
      phoneWide: true,
      cell: (one) => <a href={hrefOf(number, one)}>{loadWords(one)}</a>,
    },
    {
      key: 'arrives',
      head: 'Arrives',
      computed: 'parcel',
      cell: ({ arrivesOn }) => formatDay(arrivesOn, locale, 'weekday'),
    },
    { key: 'low', head: 'Lowest', numeric: true, computed: 'parcel', cell: ({ lowestC }) => temp(lowestC) },
    {
      key: 'high',
      head: 'Highest',
      numeric: true,
      computed: 'parcel',
      cell: ({ highestC }) => temp(highestC),
    },
    {
      key: 'cost',
      head: 'Costs',
      computed: 'parcel',
      numeric: true,
      cell: ({ cost }) => (cost === 0 ? '' : formatMoney(cost, currency, locale)),
    },
  ];
}

function Refused(props: OptionsListProps & { title: string; rows: readonly RefusedShown[] }) {
  const { title, rows, number } = props;
  if (rows.length === 0) return null;
  return (
    <details class="chart-table">
      <summary>
        {title} ({rows.length})
      </summary>
      <DataTable
        caption={title}
        hideCaption
        rows={rows}
        rowKey={(one) => `${one.dispatchOn} ${one.way} ${one.box} ${one.pack} ${one.packs}`}
        columns={[
          {
            key: 'what',
            head: 'What',
            rowHeader: true,
            phoneWide: true,
            cell: (one) =>
              one.link ? <a href={hrefOf(number, one.link)}>{refusedWords(one)}</a> : refusedWords(one),
          },
          { key: 'why', head: 'Why not', phoneWide: true, computed: 'parcel', cell: ({ why }) => why },
        ]}
      />
    </details>
  );
}

/** Every option of a parcel: those that are safe, and the others with the reason, day by day. */
export function OptionsList(props: OptionsListProps) {
  const { options, refused, closed, furniture } = props;
  const days = [
    ...new Set(refused.flatMap(({ dispatchOn }) => (dispatchOn === null ? [] : [dispatchOn]))),
  ].sort();
  const day = (iso: string) => formatDay(iso, furniture.locale, 'weekday');
  return (
    <section class="parcel-part" id="options">
      <h2>What is safe</h2>
      {options.length === 0 ? (
        <p>Nothing is safe in all weathers on the days ahead. Below stands why.</p>
      ) : (
        <DataTable
          caption="What is safe, the cheapest first"
          rows={options}
          rowKey={(one) => `${one.dispatchOn} ${one.way} ${one.box} ${one.pack} ${one.packs}`}
          columns={optionColumns(props)}
        />
      )}
      <h2>What is refused, and why</h2>
      <Refused {...props} title="On any day" rows={refused.filter(({ dispatchOn }) => dispatchOn === null)} />
      {days.map((date) => (
        <Refused
          key={date}
          {...props}
          title={day(date)}
          rows={refused.filter(({ dispatchOn }) => dispatchOn === date)}
        />
      ))}
      {closed.length > 0 && (
        <ul class="closed-days">
          {closed.map(({ date, why }) => (
            <li key={date}>
              {day(date)}: {why}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
