import { h } from 'preact';
import type { Figure } from '../../shared/lines/page-figure.ts';
import { type GraphFilter, graphFilter } from '../../shared/lines/page-filter.ts';
import { type Forest, type GraphEdge, growForest } from '../../shared/lines/page-forest.ts';
import { around, overviewOf } from '../../shared/lines/page-graph.ts';
import { inbredBelow } from '../../shared/lines/page-start.ts';
import { ChooseGraphPage } from '../../views/lines/page-choose-graph.tsx';
import { GraphPage, type GraphPageProps } from '../../views/lines/page-graph.tsx';
import type { GraphNodeData } from '../../views/lines/part-graph.tsx';
import { type Answer, page, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { namesOfSpecies } from '../species/queries.ts';
import { layoutOf } from './graph-layouts.ts';
import { listLines, readLine } from './queries.ts';
import {
  type GraphCultureRow,
  graphCultures,
  graphMixings,
  graphSplits,
  speciesWithCultures,
} from './queries-graph.ts';
import { kinshipOf, type SpeciesKinship } from './queries-kinship.ts';

/** More codes than these make a page heavier than they help. */
const mostSuggested = 300;

const wholeNumber = (text: string) => (/^[1-9]\d{0,14}$/.test(text) ? Number(text) : null);

/** The species or the line that the address names; null where it names neither. */
function subjectOf({ db }: StaffCall, filter: GraphFilter): GraphPageProps['subject'] | null {
  const line = filter.line === undefined ? null : readLine(db, wholeNumber(filter.line) ?? 0);
  if (line === undefined) throw notFound('line');
  const speciesId = line?.speciesId ?? (filter.species === undefined ? null : wholeNumber(filter.species));
  if (!line && filter.species === undefined) return null;
  const found = namesOfSpecies(db).find((one) => one.id === speciesId);
  if (!found) throw notFound('species');
  return { species: found, line: line && { id: line.id, name: line.name } };
}

type Drawn = { rows: GraphCultureRow[]; edges: GraphEdge[]; lastMixed: Map<string, string>; forest: Forest };

function forestOf({ db }: StaffCall, { species, line }: GraphPageProps['subject']): Drawn {
  const rows = graphCultures(db, species.id).filter((row) => line === null || row.lineId === line.id);
  const mixings = graphMixings(db, species.id);
  const edges: GraphEdge[] = [
    ...graphSplits(db, species.id).map((edge) => ({ ...edge, kind: 'split' as const })),
    ...mixings.map(({ from, to, animals }) => ({ from, to, animals, kind: 'mixing' as const })),
  ];
  const cultures = rows.map(({ code, foundedOn, status }) => ({
    code,
    foundedOn,
    isKept: status !== 'retired',
  }));
  return {
    rows,
    edges,
    lastMixed: new Map(mixings.map(({ from, to, lastOn }) => [`${from} ${to}`, lastOn])),
    forest: growForest(cultures, edges),
  };
}

/** What each culture that is drawn shows. */
function nodesOf(figures: readonly Figure[], { rows, edges, lastMixed }: Drawn, known: SpeciesKinship) {
  const shown = new Set(
    figures.flatMap(({ nodes }) => nodes.flatMap((n) => (n.kind === 'culture' ? n.code : []))),
  );
  const sources = new Map<string, GraphNodeData['sources']>();
  for (const { from, to, kind, animals } of edges) {
    if (!shown.has(to)) continue;
    const own = sources.get(to) ?? [];
    own.push({
      code: from,
      kind,
      animals,
      lastOn: kind === 'mixing' ? (lastMixed.get(`${from} ${to}`) ?? null) : null,
    });
    sources.set(to, own);
  }
  return new Map(
    rows
      .filter(({ code }) => shown.has(code))
      .map((row): [string, GraphNodeData] => {
        const place = row.status === 'retired' ? undefined : known.found.placeOf(row.code);
        const inbreeding = place === undefined || known.clonal ? null : known.found.at(place, place);
        const { health, ...rest } = row;
        return [
          row.code,
          {
            ...rest,
            health: health ?? 'well',
            inbreeding,
            isInbred: inbreeding !== null && 1 - inbreeding < inbredBelow,
            sources: sources.get(row.code) ?? [],
          },
        ];
      }),
  );
}

function drawingOf(drawn: Drawn, filter: GraphFilter, focus: string | null) {
  if (focus === null) return overviewOf(drawn.forest, filter.page);
  const figure = around(drawn.forest, focus, filter);
  return { figures: figure ? [figure] : [], page: 1, pages: 1 };
}

/** The code as it is written in the records; undefined when there is no such culture here. */
const knownCode = (rows: readonly GraphCultureRow[], typed: string) =>
  rows.find(({ code }) => code.toLowerCase() === typed.toLowerCase())?.code;

export function showGraph(call: StaffCall): Answer {
  const { db, today, furniture } = call;
  const filter = graphFilter.parse(call.query);
  const subject = subjectOf(call, filter);
  if (!subject) return page(h(ChooseGraphPage, { furniture, species: speciesWithCultures(db) }));
  const drawn = forestOf(call, subject);
  const known = kinshipOf(db, subject.species.id, today);
  if (!known) throw notFound('species');
  const focus = filter.focus === '' ? null : (knownCode(drawn.rows, filter.focus) ?? null);
  const isUnknown = filter.focus !== '' && focus === null;
  const { figures, page: current, pages } = drawingOf(drawn, filter, focus);
  const shown = h(GraphPage, {
    furniture,
    subject,
    filter: { ...filter, page: current },
    focus,
    unknownFocus: isUnknown ? filter.focus : null,
    codes: drawn.rows.length <= mostSuggested ? drawn.rows.map(({ code }) => code) : undefined,
    figures: figures.map(layoutOf),
    nodes: nodesOf(figures, drawn, known),
    pages,
    cultures: { ever: drawn.rows.length, kept: drawn.rows.filter((r) => r.status !== 'retired').length },
    lines: listLines(db, subject.species.id).map(({ id, name }) => ({ id, name })),
    clonal: known.clonal,
    leftOut: known.leftOut,
  });
  return isUnknown ? wrongForm(shown) : page(shown);
}
