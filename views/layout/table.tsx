import type { ComponentChildren } from 'preact';
import type { WorkingName } from '../workings/registry.ts';
import { classes } from './classes.ts';

export type Sort = { href: string; direction: 'up' | 'down' | null };

export type Column<Row> = {
  key: string;
  head: string;
  cell: (row: Row) => ComponentChildren;
  numeric?: boolean;
  /** Its figures are worked out by this: the page must hold a `WorkedOut` of it. */
  computed?: WorkingName;
  /** The cell that names the row; the first column when none says so. */
  rowHeader?: boolean;
  sort?: Sort;
  /** The word before the value on the phone's label card; the head when left out, '' for none. */
  phoneLabel?: string;
  hideOnPhone?: boolean;
  /** Takes the card's whole width on the phone; so does a cell without a label. */
  phoneWide?: boolean;
  /** Keeps the head for screen readers only (a column of buttons). */
  hideHead?: boolean;
};

export type DataTableProps<Row> = {
  caption: ComponentChildren;
  columns: readonly Column<Row>[];
  rows: readonly Row[];
  rowKey: (row: Row) => string | number;
  /** A row that asks for somebody, or that warns: marked at its edge. Say it in words in a cell too. */
  rowTone?: (row: Row) => 'needs-you' | 'harm' | undefined;
  /** Keeps the caption for screen readers only, where a heading already says it. */
  hideCaption?: boolean;
  /** Totals and the like: rows of a tfoot. */
  foot?: ComponentChildren;
  id?: string;
  class?: string;
};

/** Spelt out because some browsers forget what a table is when its rows are laid out as cards. */
const roles = {
  table: { role: 'table' },
  rowgroup: { role: 'rowgroup' },
  row: { role: 'row' },
  columnheader: { role: 'columnheader' },
  rowheader: { role: 'rowheader' },
  cell: { role: 'cell' },
} as const;

function SortLink({ head, sort }: { head: string; sort: Sort }) {
  return (
    <a href={sort.href} class="sort">
      {head}
      <span class="sort-mark" aria-hidden="true">
        {sort.direction === 'up' ? '▲' : sort.direction === 'down' ? '▼' : '↕'}
      </span>
    </a>
  );
}

const sortWords = { up: 'ascending', down: 'descending' } as const;

function Heads<Row>({ columns }: { columns: readonly Column<Row>[] }) {
  return (
    <thead {...roles.rowgroup}>
      <tr {...roles.row}>
        {columns.map((column) => (
          <th
            key={column.key}
            scope="col"
            {...roles.columnheader}
            class={classes(column.numeric && 'numeric', column.sort && 'sortable')}
            aria-sort={column.sort?.direction ? sortWords[column.sort.direction] : undefined}
          >
            {column.sort ? (
              <SortLink head={column.head} sort={column.sort} />
            ) : (
              <span class={column.hideHead ? 'visually-hidden' : undefined}>{column.head}</span>
            )}
          </th>
        ))}
      </tr>
    </thead>
  );
}

function cellClass<Row>(column: Column<Row>): string | undefined {
  return classes(
    column.numeric && 'numeric',
    column.hideOnPhone && 'not-on-phone',
    (column.phoneWide || column.phoneLabel === '') && 'phone-wide',
  );
}

type TableRowProps<Row> = {
  columns: readonly Column<Row>[];
  row: Row;
  tone?: 'needs-you' | 'harm';
};

function TableRow<Row>({ columns, row, tone }: TableRowProps<Row>) {
  const header = columns.find((column) => column.rowHeader) ?? columns[0];
  return (
    <tr {...roles.row} class={tone && `row-${tone}`}>
      {columns.map((column) =>
        column === header ? (
          <th key={column.key} scope="row" {...roles.rowheader} class={cellClass(column)}>
            {column.cell(row)}
          </th>
        ) : (
          <td
            key={column.key}
            {...roles.cell}
            class={cellClass(column)}
            data-computed={column.computed}
            data-label={(column.phoneLabel ?? column.head) || undefined}
          >
            {column.cell(row)}
          </td>
        ),
      )}
    </tr>
  );
}

/**
 * A real table with row headers; on the phone each row becomes a label card.
 */
export function DataTable<Row>(props: DataTableProps<Row>) {
  const { caption, columns, rows, rowKey, rowTone, hideCaption, foot, id } = props;
  return (
    <div class={classes('table-frame', props.class)}>
      <table {...roles.table} class="data-table" id={id}>
        <caption class={hideCaption ? 'visually-hidden' : undefined}>{caption}</caption>
        <Heads columns={columns} />
        <tbody {...roles.rowgroup}>
          {rows.map((row) => (
            <TableRow key={rowKey(row)} columns={columns} row={row} tone={rowTone?.(row)} />
          ))}
        </tbody>
        {foot && <tfoot {...roles.rowgroup}>{foot}</tfoot>}
      </table>
    </div>
  );
}
