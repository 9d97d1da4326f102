import type { ComponentChildren } from 'preact';
import { cultureHref } from '../cultures/page-list.tsx';
import { Code } from '../layout/code.tsx';
import { formatDay, formatNumber } from '../layout/format.ts';
import { Day } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { type GraphSubject, graphHref } from './graph-href.ts';
import type { FigurePlan } from './graph-plan.ts';
import { type GraphNodeData, type GraphNodes, numberWords } from './part-graph.tsx';
import { formatF, formatGeneShare, moreWords, standingWords } from './say.ts';

type MoreRow = { kind: 'more'; key: string; of: string; count: number; kept: number; skip: number };
type Row = { kind: 'culture'; key: string; data: GraphNodeData } | MoreRow;

export type GraphTableProps = {
  subject: GraphSubject;
  plans: readonly FigurePlan[];
  nodes: GraphNodes;
  clonal: boolean;
  locale?: string;
};

const originWords: Record<string, string> = {
  wild: 'the wild',
  bought: 'outside',
  split: 'a culture that is not written down',
  unknown: 'not known',
};

function Sources({ data, locale }: { data: GraphNodeData; locale?: string }) {
  const founding = data.sources.some(({ kind }) => kind === 'split');
  return (
    <>
      {!founding && (
        <>
          {originWords[data.origin]} ({formatNumber(data.foundingAnimals, locale)})
        </>
      )}
      {data.sources.map(({ code, kind, animals, lastOn }, i) => (
        <span key={`${kind} ${code}`}>
          {(i > 0 || !founding) && ', '}
          {kind === 'mixing' && 'mixed with '}
          <Code href={cultureHref(code)}>{code}</Code> ({formatNumber(animals, locale)}
          {lastOn && `, ${formatDay(lastOn, locale)}`})
        </span>
      ))}
    </>
  );
}

function MoreCell({ row, subject }: { row: MoreRow; subject: GraphSubject }) {
  return (
    <a href={graphHref(subject, { focus: row.of, up: 1, down: 3, skip: row.skip })}>
      {moreWords(row)}, from {row.of}
    </a>
  );
}

/** The cells of a culture; a box that stands for several has only its own. */
const of =
  (cell: (data: GraphNodeData) => ComponentChildren): Column<Row>['cell'] =>
  (row) =>
    row.kind === 'culture' ? cell(row.data) : '';

function inbreedingColumns(locale?: string): Column<Row>[] {
  return [
    {
      key: 'inbreeding',
      head: 'Inbreeding',
      computed: 'kinship',
      numeric: true,
      cell: of(({ inbreeding: f }) => (f === null ? '' : formatF(f, locale))),
    },
    {
      key: 'kept',
      head: 'Heterozygosity kept',
      computed: 'kinship',
      numeric: true,
      cell: of(({ inbreeding: f }) => (f === null ? '' : formatGeneShare(1 - f, locale))),
    },
  ];
}

function codeColumn(subject: GraphSubject): Column<Row> {
  return {
    key: 'code',
    head: 'Culture',
    rowHeader: true,
    cell: (row) =>
      row.kind === 'more' ? (
        <MoreCell row={row} subject={subject} />
      ) : (
        <Code href={cultureHref(row.data.code)}>{row.data.code}</Code>
      ),
  };
}

function focusColumn(subject: GraphSubject): Column<Row> {
  return {
    key: 'focus',
    head: 'Draw around it',
    hideHead: true,
    phoneLabel: '',
    cell: of(({ code }) => (
      <span class="row-links">
        <a href={graphHref(subject, { focus: code, up: 2, down: 3 })} aria-label={`Draw around ${code}`}>
          Draw around it
        </a>
      </span>
    )),
  };
}

function columnsFor({ subject, clonal, locale }: GraphTableProps): Column<Row>[] {
  return [
    codeColumn(subject),
    {
      key: 'sources',
      head: 'From',
      phoneWide: true,
      cell: of((data) => <Sources data={data} locale={locale} />),
    },
    { key: 'founded', head: 'Founded', cell: of(({ foundedOn }) => <Day iso={foundedOn} locale={locale} />) },
    ...(subject.line ? [] : [{ key: 'line', head: 'Line', cell: of(({ line }) => line ?? '') }]),
    {
      key: 'animals',
      head: 'Animals',
      computed: 'population',
      cell: of((data) => (data.status === 'retired' ? '' : numberWords(data, locale))),
    },
    ...(clonal ? [] : inbreedingColumns(locale)),
    { key: 'standing', head: 'Stands', cell: of(standingWords) },
    focusColumn(subject),
  ];
}

/** What the drawings show, as a table: the same cultures in the same order. */
export function GraphTable(props: GraphTableProps) {
  const rows = props.plans.flatMap(({ nodes }) =>
    nodes.flatMap(({ node }): Row[] => {
      if (node.kind === 'more') return [node];
      const data = node.kind === 'culture' ? props.nodes.get(node.code) : undefined;
      return data ? [{ kind: 'culture', key: node.key, data }] : [];
    }),
  );
  return (
    <DataTable
      caption="The same as a table"
      columns={columnsFor(props)}
      rows={rows}
      rowKey={(row) => row.key}
      rowTone={(row) => (row.kind === 'culture' && row.data.isInbred ? 'needs-you' : undefined)}
      class="graph-table"
    />
  );
}
