import type { FeederWeek } from '../../shared/feeders/feeders.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { Actions, LinkButton } from '../layout/button.tsx';
import { Code, Latin } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { formatCount, formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { PaperFoot } from '../layout/paper-foot.tsx';
import { Shell } from '../layout/shell.tsx';
import { Sparkline } from '../layout/sparkline.tsx';
import { DataTable } from '../layout/table.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { FeederChart } from './part-chart.tsx';
import { sayFeeders } from './say-worked-out.ts';

export type FeederPlan = {
  speciesId: number;
  scientificName: string;
  commonName: string;
  safety: number;
  /** Colonies that eat it, and cultures of it that give or will give. */
  eaters: number;
  running: number;
  /** Cultures that have given what they give. */
  spent: string[];
  startNow: number;
  starts: { weekStart: string; cultures: number }[];
  weeks: FeederWeek[];
  /** What one culture of it does. */
  culture: { leadDays: number; productiveDays: number; yield: number; seedAdults: number };
  /** What each colony eats in the week of today, and what each running culture gives. */
  thisWeek: {
    eats: { code: string; perWeek: number; share: number; animals: number }[];
    gives: { code: string; animals: number }[];
  };
};

type FeedersPageProps = {
  furniture: Furniture;
  plans: FeederPlan[];
  mayEdit: boolean;
  others: { id: number; scientificName: string; commonName: string }[];
};

function findingOf({ weeks, startNow, eaters, starts }: FeederPlan, locale?: string): string {
  if (eaters === 0) return 'Nothing eats it yet';
  const short = weeks.filter((week) => week.short);
  const start =
    startNow > 0
      ? `Start ${formatCount(startNow, 'culture', 'cultures', locale)} this week`
      : 'Nothing to start this week';
  const [first] = short;
  if (!first) {
    const isAsIs = starts.length === 0;
    return `${start}: enough for ${formatCount(weeks.length, 'week')}${isAsIs ? '' : ', started as planned'}`;
  }
  const from = formatDay(first.weekStart, locale, 'month-day');
  return short.length === 1
    ? `${start}; the week from ${from} runs short whatever you start`
    : `${start}; ${formatCount(short.length, 'week')} run short whatever you start, the first from ${from}`;
}

const stateOf = ({ weeks, eaters }: FeederPlan): string => {
  if (eaters === 0) return 'nothing eats it yet';
  const short = weeks.filter((week) => week.short).length;
  return short === 0
    ? `enough for ${formatCount(weeks.length, 'week')}`
    : `${formatCount(short, 'week')} short`;
};

function Supply({ plan }: { plan: FeederPlan }) {
  const { weeks, safety } = plan;
  const at = (w: number) => w / Math.max(1, weeks.length - 1);
  return (
    <span class="trend">
      <Sparkline
        points={weeks.map(({ supply }, w) => {
          const middle = Math.max(0, supply);
          return { at: at(w), middle, lower: middle, upper: middle };
        })}
        beside={weeks.map(({ demand }, w) => ({ at: at(w), value: demand * safety }))}
      />
      <span class="trend-words">{stateOf(plan)}</span>
    </span>
  );
}

/** All feeders at a glance, where there are several: line what there will be, dashes what is eaten. */
function Glance({ plans, locale }: { plans: readonly FeederPlan[]; locale?: string }) {
  return (
    <DataTable
      caption="The weeks ahead: line what there is, dashes what is needed"
      columns={[
        {
          key: 'species',
          head: 'Feeder',
          rowHeader: true,
          cell: (plan: FeederPlan) => (
            <a href={`#feeder-${plan.speciesId}`}>
              <Latin>{plan.scientificName}</Latin>
            </a>
          ),
        },
        {
          key: 'start',
          head: 'Start this week',
          computed: 'feeders',
          cell: ({ startNow }) =>
            startNow === 0 ? 'none' : formatCount(startNow, 'culture', 'cultures', locale),
        },
        { key: 'weeks', head: 'Weeks ahead', computed: 'feeders', cell: (plan) => <Supply plan={plan} /> },
      ]}
      rows={plans}
      rowKey={(plan) => plan.speciesId}
    />
  );
}

function Plan({ plan, furniture, mayEdit }: { plan: FeederPlan; furniture: Furniture; mayEdit: boolean }) {
  const { locale } = furniture;
  const later = plan.starts.slice(plan.startNow > 0 ? 1 : 0);
  return (
    <section aria-label={plan.scientificName} id={`feeder-${plan.speciesId}`}>
      <h2>
        <Latin>{plan.scientificName}</Latin>{' '}
        {plan.commonName && <small class="quiet">{plan.commonName}</small>}
      </h2>
      {plan.weeks.some((week) => week.short) && plan.eaters > 0 && (
        <Notice tone="needs-you">
          No start can help the weeks marked short any more: buy feeders in, or feed something else meanwhile.
        </Notice>
      )}
      <FeederChart
        weeks={plan.weeks}
        safety={plan.safety}
        finding={findingOf(plan, locale)}
        locale={locale}
      />
      <p>
        {plan.running === 0
          ? 'No culture runs'
          : formatCount(plan.running, 'culture runs', 'cultures run', locale)}
        , {formatCount(plan.eaters, 'colony eats', 'colonies eat', locale)} from them.
        {later.length > 0 && (
          <Computed of="feeders">
            {` Then start ${later.map(({ weekStart, cultures }) => `${cultures} in the week from ${formatDay(weekStart, locale, 'month-day')}`).join(', ')}.`}
          </Computed>
        )}
      </p>
      {plan.spent.length > 0 && (
        <p>
          Retire{' '}
          {plan.spent.map((code, i) => (
            <span key={code}>
              {i > 0 && ', '}
              <Code href={cultureHref(code)}>{code}</Code>
            </span>
          ))}
          : old feeder cultures give little and breed mites.
        </p>
      )}
      {mayEdit && (
        <Actions>
          <LinkButton href={`/feeders/${plan.speciesId}/edit`}>Change figures and eaters</LinkButton>
        </Actions>
      )}
    </section>
  );
}

export function FeedersPage({ furniture, plans, mayEdit, others }: FeedersPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Feeders"
      purpose="What to start this week, so that no week runs short."
      width="wide"
    >
      {plans.length === 0 && (
        <Empty
          title={
            mayEdit
              ? 'No species is planned as a feeder yet. Choose one below, and say who eats it and how many in a week.'
              : 'No species is planned as a feeder yet. The owner sets this up.'
          }
        />
      )}
      {plans.length > 1 && <Glance plans={plans} locale={furniture.locale} />}
      {plans.map((plan) => (
        <Plan key={plan.speciesId} plan={plan} furniture={furniture} mayEdit={mayEdit} />
      ))}
      {mayEdit && (
        <details class="more" open={plans.length === 0}>
          <summary>Plan another species as a feeder</summary>
          <ul>
            {others.map(({ id, scientificName, commonName }) => (
              <li key={id}>
                <a href={`/feeders/${id}/edit`}>
                  <Latin>{scientificName}</Latin>
                </a>{' '}
                {commonName}
              </li>
            ))}
          </ul>
        </details>
      )}
      {plans.length > 0 && (
        <WorkedOut of="feeders" so={plans.flatMap((plan) => sayFeeders(plan, furniture.locale))}>
          <p>
            Each colony eats what its species' figure says for a full enclosure, less where it is not full. A
            feeder culture gives nothing at first, then its animals evenly over its good days, and takes some
            to begin. The plan starts as few cultures as leave the fewest weeks short, as late as can be.
            Cultures in quarantine are not counted. The figures are yours; those it began with are common
            practice without a source.
          </p>
        </WorkedOut>
      )}
      {plans.length > 0 && (
        <PaperFoot furniture={furniture}>
          Bars: what the cultures give in a week, worked out from how they have grown and what was taken.
          Line: what the colonies eat. A dashed bar falls short.
        </PaperFoot>
      )}
    </Shell>
  );
}
