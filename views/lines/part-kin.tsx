import { Fragment } from 'preact';
import { cultureHref } from '../cultures/page-list.tsx';
import { Code } from '../layout/code.tsx';
import { type Fact, Facts } from '../layout/facts.tsx';
import { formatCount, formatNumber } from '../layout/format.ts';
import { Notice } from '../layout/notice.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { graphHref } from './graph-href.ts';
import { HowKinship } from './part-how-kinship.tsx';
import { clonalWords, formatF, formatGeneShare } from './say.ts';
import { sayKin } from './say-worked-out.ts';

type Named = { code: string; kinship: number };

export type Kin = {
  clonal: boolean;
  founders: { code: string; share: number }[];
  generations: number;
  inbreeding: number;
  heterozygosityKept: number;
  isInbred: boolean;
  effectiveSize: number;
  animals: number;
  breeding: { femaleShare: number; neRatio: number; generationDays: number };
  nearest: Named[];
  farthest: Named[];
};

export type KinSectionProps = {
  code: string;
  speciesId: number;
  isRetired: boolean;
  /** Null for a culture that left nothing in those that are kept. */
  kin: Kin | null;
  /** Its number is expected to fall in the weeks ahead. */
  isShrinking: boolean;
  locale?: string;
};

const mostFounders = 5;

function Founders({ founders, locale }: { founders: Kin['founders']; locale?: string }) {
  const rest = founders.slice(mostFounders);
  const share = rest.reduce((sum, one) => sum + one.share, 0);
  return (
    <>
      {founders.slice(0, mostFounders).map(({ code, share: own }, i) => (
        <Fragment key={code}>
          {i > 0 && ', '}
          <span class="nowrap">
            <Code href={cultureHref(code)}>{code}</Code> {formatGeneShare(own, locale)}
          </span>
        </Fragment>
      ))}
      {rest.length > 0 && `, ${formatCount(rest.length, 'other')} ${formatGeneShare(share, locale)}`}
    </>
  );
}

function Relatives({ list, locale }: { list: Named[]; locale?: string }) {
  return (
    <>
      {list.map(({ code, kinship }, i) => (
        <Fragment key={code}>
          {i > 0 && ', '}
          <span class="nowrap">
            <Code href={cultureHref(code)}>{code}</Code> {formatF(kinship, locale)}
          </span>
        </Fragment>
      ))}
    </>
  );
}

function facts({ kin, isRetired, locale }: KinSectionProps & { kin: Kin }): (Fact | false)[] {
  const says = !kin.clonal && !isRetired;
  return [
    {
      term: 'Founders',
      computed: 'kinship',
      value: <Founders founders={kin.founders} locale={locale} />,
      note: 'and their share of its genes',
    },
    !isRetired && {
      term: 'Generations since',
      computed: 'kinship',
      value: `about ${formatNumber(kin.generations, locale, 1)}`,
      note: 'by the time passed',
    },
    says && { term: 'Inbreeding', computed: 'kinship', value: formatF(kin.inbreeding, locale) },
    says && {
      term: 'Heterozygosity kept',
      computed: 'kinship',
      value: <strong>{formatGeneShare(kin.heterozygosityKept, locale)}</strong>,
      note: 'of its founders’',
    },
    says && {
      term: 'Effective size now',
      computed: 'kinship',
      value: `about ${formatNumber(kin.effectiveSize, locale)}`,
      note: `each generation takes ${formatGeneShare(1 / (2 * kin.effectiveSize), locale)}`,
    },
    says &&
      kin.nearest.length > 0 && {
        term: 'Nearest kin',
        computed: 'kinship',
        value: <Relatives list={kin.nearest} locale={locale} />,
        note: 'kinship, 0 for strangers',
      },
    says &&
      kin.farthest.length > 0 && {
        term: 'Most distant kin',
        computed: 'kinship',
        value: <Relatives list={kin.farthest} locale={locale} />,
      },
  ];
}

/** Why animals of another culture would do it good; null when there is no reason. */
function reasonToMix({ kin, isShrinking, locale }: KinSectionProps): string | null {
  if (kin?.isInbred)
    return `It keeps ${formatGeneShare(kin.heterozygosityKept, locale)} of its founders’ heterozygosity, less than a single pair would leave.`;
  return isShrinking ? 'Its number is expected to fall in the weeks ahead.' : null;
}

/** On a culture's page: what it descends from, how inbred it is, and who is kin to it. */
export function KinSection(props: KinSectionProps) {
  const { code, speciesId, isRetired, kin } = props;
  const reason = isRetired ? null : reasonToMix(props);
  const mixing = `${cultureHref(code)}/mixing`;
  return (
    <section aria-labelledby="kin-title">
      <h2 id="kin-title">Founders and kin</h2>
      {reason && (
        <Notice tone="needs-you" links={[{ href: mixing, label: 'Which cultures could strengthen it' }]}>
          {reason}
        </Notice>
      )}
      {kin ? (
        <>
          <Facts columns={2} items={facts({ ...props, kin })} />
          {kin.clonal ? <WorkedOut of="kinship" /> : <HowKinship so={sayKin(kin, props.locale)} />}
        </>
      ) : (
        <p class="quiet">None of its animals went into a culture that is kept.</p>
      )}
      {kin?.clonal && <p class="quiet">{clonalWords}</p>}
      <p class="row-links">
        <a href={graphHref({ species: { id: speciesId }, line: null }, { focus: code, up: 2, down: 3 })}>
          Draw its splits and mixings
        </a>
        {!isRetired && !reason && <a href={mixing}>Which cultures could strengthen it</a>}
      </p>
    </section>
  );
}
