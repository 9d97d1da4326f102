import { curveBumpX, line } from 'd3-shape';
import { cultureHref } from '../cultures/page-list.tsx';
import { formatEstimate } from '../layout/round-estimate.ts';
import { type GraphSubject, graphHref } from './graph-href.ts';
import type { FigurePlan, PlacedLink, PlacedNode } from './graph-plan.ts';
import { formatF, formatGeneShare, moreWords, standingWords } from './say.ts';

export type GraphNodeData = {
  code: string;
  status: 'active' | 'quarantine' | 'retired';
  health: string;
  origin: string;
  foundedOn: string;
  foundingAnimals: number;
  line: string | null;
  median: number | null;
  lower: number | null;
  upper: number | null;
  /** Null for retired cultures, and where it says nothing. */
  inbreeding: number | null;
  isInbred: boolean;
  sources: { code: string; kind: 'split' | 'mixing'; animals: number; lastOn: string | null }[];
};

export type GraphNodes = ReadonlyMap<string, GraphNodeData>;

export type GraphProps = {
  subject: GraphSubject;
  plan: FigurePlan;
  nodes: GraphNodes;
  focus: string | null;
  /** What the drawing is of, for those who cannot see it. */
  title: string;
  locale?: string;
};

export function numberWords(node: GraphNodeData, locale?: string): string {
  if (node.status === 'retired') return 'retired';
  if (node.median === null || node.lower === null || node.upper === null) return 'number not known';
  return formatEstimate(node.median, node.lower, node.upper, locale);
}

function inbreedingWords({ inbreeding }: GraphNodeData, locale?: string): string {
  if (inbreeding === null) return '';
  return `inbreeding ${formatF(inbreeding, locale)}, ${formatGeneShare(1 - inbreeding, locale)} kept`;
}

const path = line<readonly [number, number]>().curve(curveBumpX);

/** The tip points the way the animals went. */
function Tip({ points }: { points: PlacedLink['points'] }) {
  const [from, to] = points.slice(-2);
  if (!from || !to) return null;
  const way = to[0] >= from[0] ? -1 : 1;
  return <path class="graph-tip" d={`M${to[0]} ${to[1]} l${7 * way} -4 v8 z`} />;
}

function Link({ link }: { link: PlacedLink }) {
  return (
    <g class={`graph-link graph-link-${link.kind}`}>
      <path class="graph-line" d={path([...link.points]) ?? ''} />
      <Tip points={link.points} />
    </g>
  );
}

const cut = (text: string, most: number) => (text.length <= most ? text : `${text.slice(0, most - 1)}…`);

function CultureNode({
  placed,
  data,
  isFocus,
  locale,
}: {
  placed: PlacedNode;
  data: GraphNodeData;
  isFocus: boolean;
  locale?: string;
}) {
  const { x, y, width, height } = placed;
  const standing = standingWords(data);
  const number = numberWords(data, locale);
  const inbreeding = inbreedingWords(data, locale);
  const isRetired = data.status === 'retired';
  const words = [data.code, isRetired ? '' : number, inbreeding, standing, data.line && `line ${data.line}`];
  return (
    <a
      href={cultureHref(data.code)}
      class={`graph-node graph-${isRetired ? 'retired' : standing === 'well' ? 'well' : 'needs'}`}
      aria-label={words.filter(Boolean).join(', ')}
      aria-current={isFocus ? 'true' : undefined}
    >
      <rect class="graph-box" x={x} y={y} width={width} height={height} rx={2} />
      {isFocus && (
        <rect class="graph-inner" x={x + 4} y={y + 4} width={width - 8} height={height - 8} rx={1} />
      )}
      <circle class="graph-pin" cx={x + 13} cy={y + 17} r={2} />
      <text class="graph-code" x={x + 21} y={y + 22} font-size={15}>
        {cut(data.code, 13)}
      </text>
      <text class="graph-standing" x={x + width - 10} y={y + 21} text-anchor="end" font-size={12.5}>
        {standing}
      </text>
      <text class="graph-number" x={x + 11} y={y + 42} font-size={13.5}>
        {isRetired ? cut(data.line ? `line ${data.line}` : '', 26) : cut(number, 30)}
      </text>
      <text class="graph-kept" x={x + 11} y={y + 60} font-size={12.5}>
        {inbreeding || (isRetired ? '' : cut(data.line ? `line ${data.line}` : '', 28))}
      </text>
    </a>
  );
}

function MoreNode({
  placed,
  subject,
  focus,
}: {
  placed: PlacedNode;
  subject: GraphSubject;
  focus: string | null;
}) {
  const { node, x, y, width, height } = placed;
  if (node.kind !== 'more') return null;
  const words = moreWords(node);
  const again = focus === node.of;
  return (
    <a
      href={graphHref(subject, { focus: node.of, up: 1, down: 3, skip: node.skip })}
      class="graph-more"
      aria-label={`${words}, ${again ? 'further' : 'all'} branches of ${node.of}`}
    >
      <rect class="graph-under" x={x + 4} y={y + 4} width={width - 4} height={height - 4} rx={2} />
      <rect class="graph-box" x={x} y={y} width={width - 4} height={height - 4} rx={2} />
      <text x={x + (width - 4) / 2} y={y + (height - 4) / 2 + 5} text-anchor="middle" font-size={13.5}>
        {words}
      </text>
    </a>
  );
}

function ElsewhereNode({ placed, subject }: { placed: PlacedNode; subject: GraphSubject }) {
  const { node, x, y, width, height } = placed;
  if (node.kind !== 'elsewhere') return null;
  return (
    <a
      // It may belong to another line, so the graph of the whole species is asked.
      href={graphHref({ species: subject.species, line: null }, { focus: node.code, up: 2, down: 3 })}
      class="graph-elsewhere"
      aria-label={`from ${node.code}, drawn elsewhere`}
    >
      <rect class="graph-box" x={x} y={y} width={width} height={height} rx={height / 2} />
      <text x={x + width / 2} y={y + 22} text-anchor="middle" font-size={13.5}>
        from {cut(node.code, 11)}
      </text>
    </a>
  );
}

/** One drawing of splits and mixings: every box is a link, in the order of the tree. */
export function Graph({ subject, plan, nodes, focus, title, locale }: GraphProps) {
  return (
    // A region that scrolls must be reachable by keyboard, or what lies outside could not be read.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: see above
    <section class="graph-frame" aria-label={title} tabIndex={0}>
      <svg class="graph" viewBox={`0 0 ${plan.width} ${plan.height}`} width={plan.width} height={plan.height}>
        <title>{title}</title>
        {plan.links.map((link) => (
          <Link key={`${link.from} ${link.to} ${link.kind}`} link={link} />
        ))}
        {plan.nodes.map((placed) => {
          const { node } = placed;
          if (node.kind === 'more')
            return <MoreNode key={node.key} placed={placed} subject={subject} focus={focus} />;
          if (node.kind === 'elsewhere')
            return <ElsewhereNode key={node.key} placed={placed} subject={subject} />;
          const data = nodes.get(node.code);
          return (
            data && (
              <CultureNode
                key={node.key}
                placed={placed}
                data={data}
                isFocus={node.code === focus}
                locale={locale}
              />
            )
          );
        })}
      </svg>
    </section>
  );
}
