import { PostButton } from '../layout/button.tsx';
import { Code } from '../layout/code.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { SpeciesName } from './order-lines.tsx';

export type ReservedRow = {
  id: number;
  code: string;
  place: string | null;
  scientificName: string;
  commonName: string;
  groups: number;
  animals: number;
  overrideReason: string | null;
  by: string | null;
  /** Why nothing may leave the culture now; null when it may. */
  blocked: string | null;
  /** Trouble that was seen since, in words; null for none. */
  caution: string | null;
};

export type ReservedProps = {
  furniture: Furniture;
  number: number;
  rows: readonly ReservedRow[];
  mayRelease: boolean;
  title: string;
};

function Species({ row }: { row: ReservedRow }) {
  return (
    <>
      <SpeciesName {...row} />
      {row.overrideReason && (
        <span class="cell-note quiet">
          Not spare by the calculation; {row.by ?? 'somebody'} decided: “{row.overrideReason}”
        </span>
      )}
    </>
  );
}

/** What has changed in the cultures since: it concerns whoever packs. */
function Troubles({ rows }: Pick<ReservedProps, 'rows'>) {
  return (
    <>
      {rows.map((row) =>
        row.blocked ? (
          <Notice key={row.id} tone="harm">
            {row.blocked}
          </Notice>
        ) : row.caution ? (
          <Notice key={row.id} tone="needs-you">
            {row.code}: {row.caution}
          </Notice>
        ) : null,
      )}
    </>
  );
}

function columnsFor({ furniture, number, mayRelease }: ReservedProps): Column<ReservedRow>[] {
  const columns: Column<ReservedRow>[] = [
    { key: 'code', head: 'Culture', cell: (row) => <Code href={`/cultures/${row.code}`}>{row.code}</Code> },
    { key: 'place', head: 'Place', cell: (row) => row.place ?? 'no place' },
    { key: 'species', head: 'Species', cell: (row) => <Species row={row} />, phoneWide: true },
    { key: 'groups', head: 'Groups', numeric: true, cell: (row) => row.groups },
    { key: 'animals', head: 'Animals', numeric: true, cell: (row) => row.animals },
  ];
  if (mayRelease)
    columns.push({
      key: 'release',
      head: 'Release',
      hideHead: true,
      phoneLabel: '',
      cell: (row) => (
        <PostButton
          furniture={furniture}
          action={`/orders/${number}/release`}
          fields={{ allocation: row.id }}
          keyPart={`release-${row.id}`}
          label="Release"
          ariaLabel={`Release ${row.groups} of ${row.code}`}
        />
      ),
    });
  return columns;
}

/** What an order has from which culture, in shelf order. */
export function Reserved(props: ReservedProps) {
  if (props.rows.length === 0) return null;
  return (
    <section>
      <h2>{props.title}</h2>
      <Troubles rows={props.rows} />
      <DataTable
        caption={props.title}
        hideCaption
        columns={columnsFor(props)}
        rows={props.rows}
        rowKey={(row) => row.id}
        rowTone={(row) => (row.blocked ? 'harm' : row.caution ? 'needs-you' : undefined)}
      />
    </section>
  );
}
