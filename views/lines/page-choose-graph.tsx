import { Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';

type Row = { id: number; scientificName: string; commonName: string; cultures: number };

export type ChooseGraphPageProps = { furniture: Furniture; species: Row[] };

const columns: Column<Row>[] = [
  {
    key: 'species',
    head: 'Species',
    rowHeader: true,
    cell: (row) => (
      <a href={`/lines/graph?species=${row.id}`}>
        <Latin>{row.scientificName}</Latin>
      </a>
    ),
  },
  { key: 'name', head: 'Common name', cell: (row) => row.commonName },
  { key: 'cultures', head: 'Cultures ever', numeric: true, cell: (row) => row.cultures },
];

/** Which species' graph to draw. */
export function ChooseGraphPage({ furniture, species }: ChooseGraphPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Splits and mixings"
      purpose="Which culture came from which. Choose a species."
      breadcrumbs={[{ href: '/lines', label: 'Lines' }]}
    >
      {species.length === 0 ? (
        <Empty title="No cultures yet." step={{ href: '/cultures/new', label: 'Write down a culture' }} />
      ) : (
        <DataTable
          caption={formatCount(species.length, 'species', 'species')}
          columns={columns}
          rows={species}
          rowKey={(row) => row.id}
        />
      )}
    </Shell>
  );
}
