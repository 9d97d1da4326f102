import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import { formatLength, formatVolume, type UnitSystem } from '../../shared/settings/units.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { measureWords, shapeName } from './say.ts';
import { sayVolumes } from './say-worked-out.ts';

export type EnclosureRow = {
  id: number;
  name: string;
  measures: EnclosureMeasures;
  substrateDepthMm: number;
  substrateLitres: number;
  totalLitres: number;
  ventilation: string;
  measured: boolean;
  retired: boolean;
  cultures: number;
  homes: number;
};

export type EnclosuresPageProps = {
  furniture: Furniture;
  rows: EnclosureRow[];
  units: UnitSystem;
  mayEdit: boolean;
};

function usedBy({ cultures, homes }: EnclosureRow): string {
  const used = [
    cultures > 0 && formatCount(cultures, 'culture'),
    homes > 0 && `home of ${formatCount(homes, 'species', 'species')}`,
  ].filter(Boolean);
  return used.length > 0 ? used.join(', ') : 'not yet';
}

function Name({ row, mayEdit }: { row: EnclosureRow; mayEdit: boolean }) {
  return (
    <>
      {mayEdit ? <a href={`/enclosures/${row.id}/edit`}>{row.name}</a> : row.name}
      {row.retired && <small class="under"> no longer used</small>}
      {!row.measured && <small class="under"> measures assumed, not measured yet</small>}
    </>
  );
}

function Retire({ row, furniture }: { row: EnclosureRow; furniture: Furniture }) {
  const verb = row.retired ? 'Bring back' : 'Retire';
  return (
    <PostButton
      furniture={furniture}
      action={`/enclosures/${row.id}/${row.retired ? 'bring-back' : 'retire'}`}
      label={verb}
      ariaLabel={`${verb} ${row.name}`}
      kind="quiet"
      keyPart={String(row.id)}
    />
  );
}

function columns({ furniture, units, mayEdit }: EnclosuresPageProps): Column<EnclosureRow>[] {
  const length = (mm: number) => formatLength(mm, units, furniture.locale);
  const volume = (litres: number) => formatVolume(litres, units, furniture.locale);
  const reading: Column<EnclosureRow>[] = [
    { key: 'name', head: 'Enclosure', rowHeader: true, cell: (row) => <Name row={row} mayEdit={mayEdit} /> },
    { key: 'shape', head: 'Shape', cell: (row) => shapeName[row.measures.shape] },
    {
      key: 'inside',
      head: 'Inside',
      phoneWide: true,
      cell: (row) => measureWords(row.measures, units, furniture.locale),
    },
    { key: 'depth', head: 'Substrate depth', numeric: true, cell: (row) => length(row.substrateDepthMm) },
    {
      key: 'substrate',
      head: 'Substrate',
      numeric: true,
      computed: 'volume',
      cell: (row) => volume(row.substrateLitres),
    },
    {
      key: 'total',
      head: 'In all',
      numeric: true,
      computed: 'volume',
      cell: (row) => volume(row.totalLitres),
    },
    { key: 'used', head: 'Used by', cell: usedBy },
  ];
  const changing: Column<EnclosureRow> = {
    key: 'change',
    head: 'Change',
    hideHead: true,
    phoneLabel: '',
    cell: (row) => <Retire row={row} furniture={furniture} />,
  };
  return mayEdit ? [...reading, changing] : reading;
}

export function EnclosuresPage(props: EnclosuresPageProps) {
  const { furniture, rows, units, mayEdit } = props;
  return (
    <Shell
      furniture={furniture}
      title="Enclosures"
      purpose="What the cultures live in. The litres of substrate decide how many animals one can hold."
      width="wide"
      breadcrumbs={mayEdit ? [{ href: '/settings', label: 'Settings' }] : []}
      actions={
        mayEdit && (
          <LinkButton href="/enclosures/new" kind="main">
            New enclosure
          </LinkButton>
        )
      }
    >
      {rows.length === 0 ? (
        <Empty
          title="No enclosures yet."
          step={mayEdit ? { href: '/enclosures/new', label: 'Write down the first enclosure' } : undefined}
        />
      ) : (
        <>
          <DataTable
            caption="Enclosures"
            hideCaption
            columns={columns(props)}
            rows={rows}
            rowKey={(row) => row.id}
            rowTone={(row) => (row.measured || row.retired ? undefined : 'needs-you')}
          />
          <WorkedOut
            of="volume"
            label="How are the litres worked out?"
            so={sayVolumes(rows, { units, locale: furniture.locale })}
          >
            <p>
              From the inside measures, exactly: length × width × depth for a box, and the volume of a
              cylinder or of a cone without its tip for round ones. Ribs and rounded corners are not counted;
              fill one with a measuring cup if it has many.
            </p>
          </WorkedOut>
        </>
      )}
    </Shell>
  );
}
