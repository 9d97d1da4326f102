import { packKindWords } from '../../shared/parcels/pack-form.ts';
import { formatVolume, type UnitSystem } from '../../shared/settings/units.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { sayBox, type Walls } from './say-box.ts';
import { insideWords, leftWords, packWords, priceWords, wattsPerKelvin } from './say-stock.ts';

export type BoxRow = Walls & {
  id: number;
  insideL: number;
  wPerK: number;
  conductanceWPerK: number | null;
  conductanceLogId: number | null;
  priceMinor: number;
  numberLeft: number | null;
  retiredAt: number | null;
};
export type PackRow = {
  id: number;
  name: string;
  kind: 'heat' | 'melting';
  massG: number;
  watts: number | null;
  hours: number | null;
  meltingC: number | null;
  smallestBoxL: number;
  priceMinor: number;
  numberLeft: number | null;
  retiredAt: number | null;
};

export type StockPageProps = {
  furniture: Furniture;
  units: UnitSystem;
  currency: string;
  mayEdit: boolean;
  boxes: BoxRow[];
  packs: PackRow[];
};

type Kept = { id: number; name: string; retiredAt: number | null };

function Name({ row, kind, mayEdit }: { row: Kept; kind: 'boxes' | 'packs'; mayEdit: boolean }) {
  return (
    <>
      {mayEdit ? <a href={`/parcels/${kind}/${row.id}/edit`}>{row.name}</a> : row.name}
      {row.retiredAt !== null && <small class="under"> no longer used</small>}
    </>
  );
}

function changing<Row extends Kept>(furniture: Furniture, kind: 'boxes' | 'packs'): Column<Row> {
  return {
    key: 'change',
    head: 'Change',
    hideHead: true,
    phoneLabel: '',
    cell: (row) => {
      const verb = row.retiredAt === null ? 'Retire' : 'Bring back';
      return (
        <PostButton
          furniture={furniture}
          action={`/parcels/${kind}/${row.id}/${row.retiredAt === null ? 'retire' : 'bring-back'}`}
          label={verb}
          ariaLabel={`${verb} ${row.name}`}
          kind="quiet"
          keyPart={`${kind}-${row.id}`}
        />
      );
    },
  };
}

function Conductance({ row, locale }: { row: BoxRow; locale: string | undefined }) {
  const how =
    row.conductanceLogId !== null ? (
      <a href={`/parcels/boxes/${row.id}/logs/${row.conductanceLogId}`}>measured</a>
    ) : row.conductanceWPerK !== null ? (
      'typed in'
    ) : (
      <>
        from its wall, <a href={`/parcels/boxes/${row.id}/measure`}>to be measured</a>
      </>
    );
  return (
    <>
      {wattsPerKelvin(row.wPerK, locale)}
      <small class="under"> {how}</small>
    </>
  );
}

function Boxes({ furniture, units, currency, mayEdit, boxes }: StockPageProps) {
  const { locale } = furniture;
  const columns: Column<BoxRow>[] = [
    {
      key: 'name',
      head: 'Box',
      rowHeader: true,
      cell: (row) => <Name row={row} kind="boxes" mayEdit={mayEdit} />,
    },
    {
      key: 'inside',
      head: 'Inside',
      phoneWide: true,
      cell: (row) => (
        <>
          {insideWords(row, units, locale)}
          <small class="under">
            {' '}
            <Computed of="volume">{formatVolume(row.insideL, units, locale)}</Computed>
          </small>
        </>
      ),
    },
    {
      key: 'heat',
      head: 'Lets through',
      computed: 'box',
      cell: (row) => <Conductance row={row} locale={locale} />,
    },
    {
      key: 'price',
      head: 'Price',
      numeric: true,
      cell: (row) => priceWords(row.priceMinor, currency, locale),
    },
    { key: 'left', head: 'Left', numeric: true, cell: (row) => leftWords(row.numberLeft) },
  ];
  return (
    <DataTable
      caption="Boxes"
      columns={mayEdit ? [...columns, changing<BoxRow>(furniture, 'boxes')] : columns}
      rows={boxes}
      rowKey={(row) => row.id}
      rowTone={(row) =>
        row.retiredAt === null && (row.numberLeft === 0 || row.conductanceWPerK === null)
          ? 'needs-you'
          : undefined
      }
    />
  );
}

function Packs({ furniture, units, currency, mayEdit, packs }: StockPageProps) {
  const { locale } = furniture;
  const columns: Column<PackRow>[] = [
    {
      key: 'name',
      head: 'Pack',
      rowHeader: true,
      cell: (row) => <Name row={row} kind="packs" mayEdit={mayEdit} />,
    },
    { key: 'kind', head: 'Kind', cell: (row) => packKindWords[row.kind] },
    { key: 'does', head: 'Does', phoneWide: true, cell: (row) => packWords(row, units, locale) },
    {
      key: 'smallest',
      head: 'In boxes from',
      numeric: true,
      cell: (row) => (row.smallestBoxL === 0 ? 'any' : formatVolume(row.smallestBoxL, units, locale)),
    },
    {
      key: 'price',
      head: 'Price',
      numeric: true,
      cell: (row) => priceWords(row.priceMinor, currency, locale),
    },
    { key: 'left', head: 'Left', numeric: true, cell: (row) => leftWords(row.numberLeft) },
  ];
  return (
    <DataTable
      caption="Packs"
      columns={mayEdit ? [...columns, changing<PackRow>(furniture, 'packs')] : columns}
      rows={packs}
      rowKey={(row) => row.id}
      rowTone={(row) => (row.retiredAt === null && row.numberLeft === 0 ? 'needs-you' : undefined)}
    />
  );
}

function NewOnes() {
  return (
    <>
      <LinkButton href="/parcels/boxes/new" kind="main">
        New box
      </LinkButton>
      <LinkButton href="/parcels/packs/new?kind=heat">New heat pack</LinkButton>
      <LinkButton href="/parcels/packs/new?kind=melting">New melting pack</LinkButton>
    </>
  );
}

/** What parcels travel in: boxes and packs, how well they keep warm, what they cost and how many are left. */
export function StockPage(props: StockPageProps) {
  const { furniture, boxes, packs, mayEdit } = props;
  return (
    <Shell
      furniture={furniture}
      title="Boxes and packs"
      purpose="What parcels travel in. From these the temperature on the way is worked out."
      width="wide"
      breadcrumbs={mayEdit ? [{ href: '/settings', label: 'Settings' }] : []}
      actions={mayEdit && <NewOnes />}
    >
      {boxes.length === 0 && packs.length === 0 ? (
        <Empty title="No boxes or packs yet. Write down the boxes you use, or begin with usual ones and put in your own measures." />
      ) : (
        <>
          <Boxes {...props} />
          <Packs {...props} />
        </>
      )}
      {mayEdit && (boxes.length === 0 || packs.length === 0) && (
        <PostButton
          furniture={furniture}
          action="/parcels/stock/starting"
          label="Begin with usual boxes and packs"
          keyPart="starting"
        />
      )}
      <WorkedOut
        of={['box', 'volume']}
        label="What does “lets through” mean?"
        so={boxes
          .filter(({ retiredAt }) => retiredAt === null)
          .flatMap((box) => sayBox(box, furniture.locale))}
      >
        <p>
          How many watts leave the box for each kelvin between inside and outside: less is better. From the
          wall it is the mean of the inside and outside surface over the resistances of the inside air film,
          the wall and the outside air film. Lids, gaps and wet cardboard make real boxes worse, so measure
          yours once.
        </p>
        <p>
          Heat packs burn skin and use up oxygen; give them air and keep them away from the animals’ cups.
        </p>
      </WorkedOut>
    </Shell>
  );
}
