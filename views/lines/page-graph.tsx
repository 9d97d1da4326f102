import { type GraphFilter, mostSteps } from '../../shared/lines/page-filter.ts';
import { ChipLinks } from '../cultures/part-chip-links.tsx';
import { LinkButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { FilterBar } from '../layout/filter-bar.tsx';
import { Field, SelectField } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { PaperFoot } from '../layout/paper-foot.tsx';
import { Shell } from '../layout/shell.tsx';
import { More, WorkedOut } from '../layout/worked-out.tsx';
import { type GraphSubject, graphHref } from './graph-href.ts';
import type { FigurePlan } from './graph-plan.ts';
import { Graph, type GraphNodes } from './part-graph.tsx';
import { GraphTable } from './part-graph-table.tsx';
import { HowKinship } from './part-how-kinship.tsx';
import { clonalWords } from './say.ts';

export type GraphPageProps = {
  furniture: Furniture;
  subject: GraphSubject;
  filter: GraphFilter;
  /** The culture in the middle; null for the overview. */
  focus: string | null;
  /** What was typed, when there is no such culture here. */
  unknownFocus: string | null;
  /** The codes that can be asked for, where they are few enough for a list. */
  codes: string[] | undefined;
  figures: FigurePlan[];
  nodes: GraphNodes;
  pages: number;
  cultures: { ever: number; kept: number };
  lines: { id: number; name: string }[];
  clonal: boolean;
  leftOut: readonly { code: string; why: string }[];
};

const stepOptions = Array.from({ length: mostSteps + 1 }, (_, n) => ({ value: String(n), label: String(n) }));

function Filters(props: GraphPageProps) {
  const { subject, filter, focus, unknownFocus, lines } = props;
  const where = subject.line ? `line ${subject.line.name}` : subject.species.scientificName;
  const keep: Record<string, number> = subject.line
    ? { line: subject.line.id }
    : { species: subject.species.id };
  return (
    <>
      <FilterBar
        action="/lines/graph"
        label="Draw around one culture"
        submit="Draw"
        keep={keep}
        clearHref={focus || unknownFocus ? graphHref(subject) : undefined}
      >
        <Field
          label="Around the culture"
          name="focus"
          value={unknownFocus ?? focus ?? ''}
          help="Its code"
          size="short"
          list={props.codes}
          maxLength={24}
          error={unknownFocus ? `There is no ${unknownFocus} in ${where}.` : undefined}
        />
        <SelectField label="Steps back" name="up" value={filter.up} options={stepOptions} />
        <SelectField label="Steps on" name="down" value={filter.down} options={stepOptions} />
      </FilterBar>
      {lines.length > 0 && <LineLinks subject={subject} lines={lines} />}
    </>
  );
}

/** The same graph of one line of the species, or of all of it. */
function LineLinks({ subject, lines }: Pick<GraphPageProps, 'subject' | 'lines'>) {
  const here = subject.line?.id ?? null;
  return (
    <ChipLinks
      label="Lines of the species"
      links={[
        { href: graphHref({ ...subject, line: null }), label: 'All lines', current: here === null },
        ...lines.map((line) => ({
          href: graphHref({ ...subject, line }),
          label: `Line ${line.name}`,
          current: here === line.id,
        })),
      ]}
    />
  );
}

function Pages({ subject, filter, pages }: Pick<GraphPageProps, 'subject' | 'filter' | 'pages'>) {
  if (pages === 1) return null;
  const { page } = filter;
  return (
    <nav class="pager" aria-label="Pages of the graph">
      <span class="pager-steps">
        {page > 1 && (
          <a class="button button-plain" href={graphHref(subject, { page: page - 1 })} rel="prev">
            Earlier page
          </a>
        )}
        <span class="pager-page">
          page {page} of {pages}
        </span>
        {page < pages && (
          <a class="button button-plain" href={graphHref(subject, { page: page + 1 })} rel="next">
            Next page
          </a>
        )}
      </span>
    </nav>
  );
}

function Legend() {
  return (
    <p class="quiet graph-legend">
      From left to right, the older to the left. A line leads from a culture to one that was split off it; a
      dashed line to one that its animals were put into later.
      <span class="not-printed"> Every box is a link.</span>
    </p>
  );
}

function summary({ cultures, focus, filter }: GraphPageProps): string {
  if (focus)
    return `${focus}, ${formatCount(filter.up, 'step')} back and ${formatCount(filter.down, 'step')} on.`;
  const ever = cultures.ever === cultures.kept ? '' : `, ${formatCount(cultures.ever, 'culture')} ever`;
  return `${formatCount(cultures.kept, 'culture')} kept${ever}.`;
}

function Heading({ subject, focus }: Pick<GraphPageProps, 'subject' | 'focus'>) {
  if (focus)
    return (
      <>
        Around <Code large>{focus}</Code>
      </>
    );
  return (
    <>
      Splits and mixings of {subject.line && `line ${subject.line.name}, `}
      <Latin>{subject.species.scientificName}</Latin>
    </>
  );
}

export function GraphPage(props: GraphPageProps) {
  const { furniture, subject, focus, figures, nodes, cultures, clonal, leftOut } = props;
  const { locale } = furniture;
  const { species, line } = subject;
  const title = focus
    ? `Around ${focus}, ${species.scientificName}`
    : `Splits and mixings of ${line ? `line ${line.name}, ` : ''}${species.scientificName}`;
  return (
    <Shell
      furniture={furniture}
      title={title}
      heading={<Heading subject={subject} focus={focus} />}
      purpose="Which culture came from which, and what the way cost in heterozygosity."
      width="wide"
      breadcrumbs={[
        { href: '/lines', label: 'Lines' },
        ...(focus
          ? [{ href: graphHref(subject), label: line ? `line ${line.name}` : species.scientificName }]
          : []),
      ]}
      actions={<LinkButton href={`/lines?species=${species.id}`}>Lines of the species</LinkButton>}
    >
      {cultures.ever === 0 ? (
        <Empty
          title="No cultures here yet."
          step={{ href: '/cultures/new', label: 'Write down a culture' }}
        />
      ) : (
        <div class="graph-page">
          <p class="verdict">{summary(props)}</p>
          {clonal && <Notice>{clonalWords}</Notice>}
          <Filters {...props} />
          <Legend />
          {figures.map((plan, i) => (
            <Graph
              key={plan.nodes[0]?.node.key}
              subject={subject}
              plan={plan}
              nodes={nodes}
              focus={focus}
              title={figures.length === 1 ? title : `${title}, drawing ${i + 1} of ${figures.length}`}
              locale={locale}
            />
          ))}
          <Pages {...props} />
          <GraphTable subject={subject} plans={figures} nodes={nodes} clonal={clonal} locale={locale} />
          <Pages {...props} />
          {leftOut.length > 0 && <LeftOut leftOut={leftOut} />}
          <PaperFoot furniture={furniture}>
            Inbreeding: the chance that two copies of a gene come from one copy in the founders, by the
            animals of each start and the generations since; kept is one less that (Malécot 1948, Wright
            1931). In brackets: nine times in ten.
          </PaperFoot>
          {clonal ? <WorkedOut of="population" /> : <HowKinship also={['population']} />}
        </div>
      )}
    </Shell>
  );
}

function LeftOut({ leftOut }: Pick<GraphPageProps, 'leftOut'>) {
  return (
    <More label={`${formatCount(leftOut.length, 'entry', 'entries')} could not be used`}>
      <ul>
        {leftOut.map(({ code, why }) => (
          <li key={`${code} ${why}`}>
            {code}: {why}.
          </li>
        ))}
      </ul>
    </More>
  );
}
