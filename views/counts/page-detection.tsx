import { betaQuantile } from '../../shared/numbers/beta.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { PostButton } from '../layout/button.tsx';
import { ChartFrame } from '../layout/chart-frame.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount, formatNumber, formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { DataTable } from '../layout/table.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { type Share, Shares } from './part-shares.tsx';

export type PairShown = {
  visibleId: number;
  code: string;
  visibleOn: string;
  fullOn: string;
  seen: number;
  counted: number;
  /** Why it teaches nothing; null when it does. */
  why: string | null;
};

export type DetectionPageProps = {
  furniture: Furniture;
  species: { id: number; scientificName: string };
  before: Share;
  after: Share;
  /** How many visits the belief rests on now. */
  visits: number;
  pairs: PairShown[];
  usable: number;
  /** A mark of what is shown, so that nothing else is accepted. */
  seen: string;
  mayAccept: boolean;
};

/** `about 30 % (15 to 47 %)`: nine visits in ten lie between. */
function sayShare({ alpha, beta }: Share, locale?: string): string {
  const low = formatNumber(betaQuantile(0.05, alpha, beta) * 100, locale);
  return `about ${formatPercent(alpha / (alpha + beta), locale)} (${low} to ${formatPercent(betaQuantile(0.95, alpha, beta), locale)})`;
}

function Pairs({ furniture, pairs }: Pick<DetectionPageProps, 'furniture' | 'pairs'>) {
  const { locale } = furniture;
  return (
    <DataTable
      caption="Pairs of counts that have not taught yet"
      rows={pairs}
      rowKey={(pair) => pair.visibleId}
      columns={[
        {
          key: 'code',
          head: 'Culture',
          rowHeader: true,
          cell: (p) => <Code href={cultureHref(p.code)}>{p.code}</Code>,
        },
        { key: 'seen-on', head: 'Looked', cell: (p) => <Day iso={p.visibleOn} locale={locale} /> },
        { key: 'seen', head: 'Seen', numeric: true, cell: (p) => formatNumber(p.seen, locale) },
        { key: 'on', head: 'Counted all', cell: (p) => <Day iso={p.fullOn} locale={locale} /> },
        { key: 'counted', head: 'There were', numeric: true, cell: (p) => formatNumber(p.counted, locale) },
        {
          key: 'share',
          head: 'Showed',
          computed: 'detection',
          cell: (p) => (p.why === null ? formatPercent(p.seen / p.counted, locale) : `left out: ${p.why}`),
        },
      ]}
    />
  );
}

/** A belief as animals that were watched: `as if 7 of 19 had shown, 7 ÷ 19 = 37 %`. */
function sayBelief(when: string, { alpha, beta }: Share, locale?: string): string {
  const [shown = '', all = ''] = [alpha, alpha + beta].map((animals) => formatNumber(animals, locale, 1));
  return `${when}: as if of ${all} animals ${shown} had shown; ${shown} ÷ ${all} = ${formatPercent(alpha / (alpha + beta), locale)}.`;
}

function How({ visits, before, after, usable, furniture: { locale } }: DetectionPageProps) {
  return (
    <WorkedOut
      of="detection"
      so={[
        sayBelief('Believed now', before, locale),
        usable > 0 && sayBelief(`After ${formatCount(usable, 'pair')}`, after, locale),
      ]}
    >
      <p>
        A pair is a count of what showed and a count of all within five days after it, with nothing taken out
        or put in between. Each pair is one visit, however many animals there were; what is believed now
        weighs as much as {formatNumber(visits)} visits. The full count’s own doubt, and how much the colony
        may have grown meanwhile, are part of it. Source: the hierarchical beta-binomial model (Gelman and
        others, Bayesian Data Analysis). Counts that are written down already stay as they were understood
        then.
      </p>
    </WorkedOut>
  );
}

const Believed = ({ furniture, before }: DetectionPageProps) => (
  <>
    Believed now: <Computed of="detection">{sayShare(before, furniture.locale)}</Computed> of the animals show
    at a visit.
  </>
);

export function DetectionPage(props: DetectionPageProps) {
  const { furniture, species, before, after, pairs, usable, seen, mayAccept } = props;
  const at = `/species/${species.id}`;
  return (
    <Shell
      furniture={furniture}
      title={`The share that shows, ${species.scientificName}`}
      heading={
        <>
          The share that shows, <Latin>{species.scientificName}</Latin>
        </>
      }
      purpose={<Believed {...props} />}
      breadcrumbs={[
        { href: '/species', label: 'Species' },
        { href: at, label: species.scientificName },
      ]}
    >
      {usable > 0 && (
        <ChartFrame
          finding={`After ${formatCount(usable, 'pair')} of counts: ${sayShare(after, furniture.locale)}`}
          computed="detection"
          caption="Dots: the pairs. Dashed: what is believed now. In brackets: nine visits in ten."
          table={<Pairs furniture={furniture} pairs={pairs} />}
          tableLabel="The pairs, one by one"
        >
          <Shares
            before={before}
            after={after}
            visits={pairs.filter((pair) => pair.why === null).map((pair) => pair.seen / pair.counted)}
          />
        </ChartFrame>
      )}
      {usable > 0 && mayAccept && (
        <PostButton
          furniture={furniture}
          action={`${at}/detection`}
          fields={{ seen }}
          kind="main"
          label="Believe this from now on"
        />
      )}
      {pairs.length === 0 ? (
        <Empty
          title="No pair of counts has anything new to teach."
          step={{ href: '/cultures', label: 'Choose a culture' }}
        >
          <p>Count what shows, then within five days count all of the same culture.</p>
        </Empty>
      ) : (
        usable === 0 && <Pairs furniture={furniture} pairs={pairs} />
      )}
      <How {...props} />
    </Shell>
  );
}
