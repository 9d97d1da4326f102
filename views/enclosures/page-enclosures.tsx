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

function columns({ furniture, units, mayEdit }: EnclosuresPageProps): Column<EnclosureRow>[] {
  const { locale } = furniture;
  const reading: Column<EnclosureRow>[] = [
    {
      key: 'name',
      head: 'Enclosure',
      rowHeader: true,
      cell: (row) => (
        <>
          {mayEdit ? <a href={`/enclosures/${row.id}/edit`}>{row.name}</a> : row.name}
          {row.retired && <small class="under"> no longer used</small>}
          {!row.measured && <small class="under"> measures assumed, not measured yet</small>}
        </>
      ),
    },
    { key: 'shape', head: 'Shape', cell: (row) => shapeName[row.measures.shape] },
    {
      key: 'inside',
      head: 'Inside',
      phoneWide: true,
      cell: (row) => measureWords(row.measures, units, locale),
    },
    {
      key: 'depth',
      head: 'Substrate depth',
      numeric: true,
      cell: (row) => formatLength(row.substrateDepthMm, units, locale),
    },
    {
      key: 'substrate',
      head: 'Substrate',
      numeric: true,
      cell: (row) => formatVolume(row.substrateLitres, units, locale),
    },
    {
      key: 'total',
      head: 'In all',
      numeric: true,
      cell: (row) => formatVolume(row.totalLitres, units, locale),
    },
    { key: 'used', head: 'Used by', cell: usedBy },
  ];
  if (!mayEdit) return reading;
  return [
    ...reading,
    {
      key: 'change',
      head: 'Change',
      hideHead: true,
      phoneLabel: '',
      cell: (row) => (
        <PostButton
          furniture={furniture}
          action={`/enclosures/${row.id}/${row.retired ? 'bring-back' : 'retire'}`}
          label={row.retired ? 'Bring back' : 'Retire'}
          ariaLabel={`${row.retired ? 'Bring back' : 'Retire'} ${row.name}`}
          kind="quiet"
          keyPart={String(row.id)}
        />
      ),
    },
  ];
}

export function EnclosuresPage(props: EnclosuresPageProps) {
  const { furniture, rows, mayEdit } = props;
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
          <WorkedOut label="How are the litres worked out?">
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
