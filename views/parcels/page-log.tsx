import { formatMass, type UnitSystem } from '../../shared/settings/units.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import { formatMoment, formatNumber } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { LogChart, type LogChartProps } from './part-log-chart.tsx';
import { sayLog, sayWall, type Walls } from './say-box.ts';
import { doubtful, wattsPerKelvin } from './say-stock.ts';

export type LogPageProps = Pick<LogChartProps, 'readings' | 'fittedC'> & {
  furniture: Furniture;
  box: Walls & { id: number; emptyMassG: number };
  log: {
    id: number;
    contentsMassG: number;
    contentsJPerKgK: number;
    conductanceWPerK: number;
    lowerWPerK: number;
    upperWPerK: number;
    madeAt: number;
  };
  residualC: number | null;
  /** What the wall alone would say. */
  byWallWPerK: number;
  isTaken: boolean;
  units: UnitSystem;
  timeZone: string;
  mayEdit: boolean;
};

/** Twice as much or half as much as the wall says is worth a second look. */
const isFarFrom = (measured: number, byWall: number) => measured > 2 * byWall || measured < byWall / 2;

/** How the fit is made, and what it does not know. */
function HowFitted({ box, log, byWallWPerK, furniture: { locale } }: LogPageProps) {
  const byWall = ['By its wall alone:', ...sayWall(box, byWallWPerK, locale)];
  return (
    <WorkedOut of="box" so={[...sayLog(log, locale), ...byWall]}>
      <p>
        The contents are taken as one lump that loses heat in proportion to its difference from the air
        outside. The conductance, and the temperature at the start, are those whose curve lies nearest to the
        readings (least squares). In brackets: where the truth lies nine times in ten as far as the scatter of
        the readings tells; a wrong weight shifts all of it, and the heat in the box’s own walls is left out.
      </p>
    </WorkedOut>
  );
}

/** A difference of temperatures, in words. */
const degreesApart = (kelvin: number, units: UnitSystem, locale: string | undefined): string =>
  units === 'us' ? `${formatNumber(kelvin * 1.8, locale, 2)} °F` : `${formatNumber(kelvin, locale, 2)} °C`;

/** What the log tells beside its picture. */
function LogFacts({ furniture, log, residualC, byWallWPerK, units }: LogPageProps) {
  const { locale } = furniture;
  return (
    <Facts
      items={[
        { term: 'Contents', value: formatMass(log.contentsMassG, units, locale) },
        {
          term: 'Heat capacity',
          value: `${formatNumber(log.contentsJPerKgK / 1000, locale, 3)} kJ/(kg K)`,
        },
        { term: 'By its wall alone', computed: 'box', value: wattsPerKelvin(byWallWPerK, locale) },
        residualC !== null && {
          term: 'Left over by the fit',
          computed: 'box',
          value: degreesApart(residualC, units, locale),
        },
      ]}
    />
  );
}

/** One cooling log with its fit, and the press that makes it the box's own. */
export function LogPage(props: LogPageProps) {
  const { furniture, box, log, residualC, byWallWPerK, isTaken, units, mayEdit } = props;
  const { locale } = furniture;
  const found = doubtful(log.conductanceWPerK, log.lowerWPerK, log.upperWPerK, locale);
  return (
    <Shell
      furniture={furniture}
      title={`${box.name} lets through ${found}`}
      heading={
        <>
          {box.name} lets through <Computed of="box">{found}</Computed>
        </>
      }
      purpose={`From a log of ${formatMoment(log.madeAt, props.timeZone, locale)}.`}
      breadcrumbs={[{ href: '/parcels/stock', label: 'Boxes and packs' }]}
      actions={
        mayEdit &&
        !isTaken && (
          <PostButton
            furniture={furniture}
            action={`/parcels/boxes/${box.id}/logs/${log.id}/take`}
            label={`Take ${wattsPerKelvin(log.conductanceWPerK, locale)} for this box`}
            kind="main"
          />
        )
      }
    >
      {isTaken && <Notice>The box goes by this measurement.</Notice>}
      {isFarFrom(log.conductanceWPerK, byWallWPerK) && (
        <Notice tone="needs-you">
          By its wall it would be <Computed of="box">{wattsPerKelvin(byWallWPerK, locale)}</Computed>, far
          from what was measured. Was the lid closed, and is the weight of the contents right?
        </Notice>
      )}
      <LogChart
        readings={props.readings}
        fittedC={props.fittedC}
        finding={
          residualC === null
            ? 'The readings'
            : `The readings lie about ${degreesApart(residualC, units, locale)} from the fitted box`
        }
        units={units}
        locale={locale}
      />
      <LogFacts {...props} />
      <HowFitted {...props} />
      <p>
        <LinkButton href={`/parcels/boxes/${box.id}/measure`}>Measure it again</LinkButton>
      </p>
    </Shell>
  );
}
