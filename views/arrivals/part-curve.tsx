import { scaleLinear } from 'd3-scale';
import { type Arrival, type ArrivalCurve, lossAt } from '../../shared/arrivals/arrival-curve.ts';
import type { Proposal, Side } from '../../shared/arrivals/limit.ts';
import { celsiusToFahrenheit, type UnitSystem } from '../../shared/settings/units.ts';
import { ChartFrame } from '../layout/chart-frame.tsx';
import { DataTable } from '../layout/table.tsx';
import { exactLimit, percent } from './say.ts';

export type CurveChartProps = {
  side: Side;
  arrivals: readonly Arrival[];
  curve: ArrivalCurve | null;
  proposal: Proposal | null;
  /** The species' limit as it is now. */
  limitC: number;
  units: UnitSystem;
  locale?: string;
};

type Sheet = typeof deskSheet;
const deskSheet = { width: 560, height: 260, left: 48, right: 546, top: 26, bottom: 214, text: 13 };
const phoneSheet: Sheet = { ...deskSheet, width: 350, right: 340, height: 250, bottom: 204 };
const sheets: [string, Sheet][] = [
  ['desk', deskSheet],
  ['phone', phoneSheet],
];
const round = (value: number) => Math.round(value * 10) / 10;
const steps = 48;

/** Only what the parcels have had, and the limit where it is near: nothing is drawn beyond. */
function scalesOf({ arrivals, curve, limitC, units }: CurveChartProps, sheet: Sheet) {
  const temps = arrivals.map(({ tempC }) => tempC);
  const [low, high] = [Math.min(...temps), Math.max(...temps)];
  const hasLimit = limitC >= low - 6 && limitC <= high + 6;
  const ends = [Math.min(low, hasLimit ? limitC : low) - 1, Math.max(high, hasLimit ? limitC : high) + 1];
  const x = scaleLinear().domain(ends).range([sheet.left, sheet.right]);
  const shares = arrivals.map(({ sent, dead }) => dead / sent);
  const top = Math.max(
    0.1,
    ...shares,
    curve ? lossAt(curve, low).share : 0,
    curve ? lossAt(curve, high).share : 0,
  );
  const y = scaleLinear()
    .domain([0, Math.min(1, top)])
    .nice(4)
    .range([sheet.bottom, sheet.top]);
  const shown = (tempC: number) => (units === 'us' ? celsiusToFahrenheit(tempC) : tempC);
  const ticks = scaleLinear().domain(ends.map(shown)).range([sheet.left, sheet.right]);
  return {
    low,
    high,
    hasLimit,
    x: (t: number) => round(x(t)),
    y: (s: number) => round(y(Math.min(s, y.domain()[1] ?? 1))),
    ys: y.ticks(4),
    ticks,
  };
}
type Scales = ReturnType<typeof scalesOf>;

function Axes({ scales, sheet, units }: { scales: Scales; sheet: Sheet; units: UnitSystem }) {
  return (
    <g>
      <text x={0} y={sheet.text} font-size={sheet.text}>
        dead
      </text>
      {scales.ys.map((share) => (
        <g key={share}>
          <line
            class="curve-grid"
            x1={sheet.left}
            x2={sheet.right}
            y1={scales.y(share)}
            y2={scales.y(share)}
          />
          <text x={sheet.left - 6} y={scales.y(share) + 4} text-anchor="end" font-size={sheet.text}>
            {percent(share)}
          </text>
        </g>
      ))}
      <line class="curve-ground" x1={sheet.left} x2={sheet.right} y1={sheet.bottom} y2={sheet.bottom} />
      {scales.ticks.ticks(6).map((tick) => (
        <text
          key={tick}
          x={round(scales.ticks(tick))}
          y={sheet.bottom + 18}
          text-anchor="middle"
          font-size={sheet.text}
        >
          {tick}
        </text>
      ))}
      <text x={sheet.right} y={sheet.bottom + 36} text-anchor="end" font-size={sheet.text}>
        {units === 'us' ? '°F' : '°C'} inside
      </text>
    </g>
  );
}

function Fitted({ curve, scales }: { curve: ArrivalCurve; scales: Scales }) {
  const { low, high, x, y } = scales;
  const points = Array.from({ length: steps + 1 }, (_, i) => {
    const tempC = low + ((high - low) * i) / steps;
    return { at: x(tempC), ...lossAt(curve, tempC) };
  });
  const upper = points.map((p) => `${p.at} ${y(p.high)}`);
  const lower = [...points].reverse().map((p) => `${p.at} ${y(p.low)}`);
  return (
    <g>
      <path class="curve-band" d={`M${[...upper, ...lower].join('L')}Z`} />
      <path class="curve-line" d={`M${points.map((p) => `${p.at} ${y(p.share)}`).join('L')}`} />
    </g>
  );
}

function Drawing({ name, sheet, props }: { name: string; sheet: Sheet; props: CurveChartProps }) {
  const scales = scalesOf(props, sheet);
  const { arrivals, curve, limitC, side, units, locale } = props;
  const at = scales.x(limitC);
  return (
    <svg
      class={`curve curve-${name}`}
      viewBox={`0 0 ${sheet.width} ${sheet.height}`}
      role="img"
      aria-label={findingOf(props)}
    >
      <Axes scales={scales} sheet={sheet} units={units} />
      {curve && <Fitted curve={curve} scales={scales} />}
      {scales.hasLimit && (
        <g>
          <line class="curve-capacity" x1={at} x2={at} y1={sheet.top} y2={sheet.bottom} />
          <text
            class="curve-label"
            x={at + (at > sheet.width / 2 ? -6 : 6)}
            y={sheet.top + 4}
            text-anchor={at > sheet.width / 2 ? 'end' : 'start'}
            font-size={sheet.text}
          >
            {side === 'low' ? 'safe from' : 'safe up to'} {exactLimit(limitC, units, locale)}
          </text>
        </g>
      )}
      {arrivals.map(({ tempC, sent, dead }, index) => (
        <circle key={index} class="curve-dot" cx={scales.x(tempC)} cy={scales.y(dead / sent)} r={3.5} />
      ))}
    </svg>
  );
}

function findingOf({ side, arrivals, curve, proposal, units, locale }: CurveChartProps): string {
  const what = side === 'low' ? 'the coldest' : 'the warmest';
  const temp = (tempC: number) => exactLimit(tempC, units, locale);
  if (proposal)
    return `By ${what} the inside got, losses pass 2 % at about ${temp(proposal.tempC)} (${temp(proposal.low)} to ${temp(proposal.high)})`;
  const dead = arrivals.filter((one) => one.dead > 0).length;
  return curve
    ? `Losses by ${what} the inside got`
    : `${dead} of ${arrivals.length} parcels had losses, by ${what} the inside got`;
}

/** Each parcel's share of dead animals against a temperature of its trip, with the fitted curve where there is one. */
export function LossChart(props: CurveChartProps) {
  const { arrivals, curve, units, locale } = props;
  return (
    <ChartFrame
      finding={findingOf(props)}
      computed="arrivals"
      caption={
        curve
          ? 'Dots: parcels; line: what is to be expected; band: 19 times in 20 it lies in there; upright: your limit.'
          : 'Dots: parcels; upright: your limit.'
      }
      table={
        <DataTable
          caption="Parcels"
          hideCaption
          rows={[...arrivals].sort((a, b) => a.tempC - b.tempC).map((one, index) => ({ ...one, index }))}
          rowKey={(row) => row.index}
          columns={[
            {
              key: 'temp',
              head: 'Inside',
              rowHeader: true,
              cell: (row) => exactLimit(row.tempC, units, locale),
            },
            { key: 'sent', head: 'Sent', numeric: true, cell: (row) => row.sent },
            { key: 'dead', head: 'Dead', numeric: true, cell: (row) => row.dead },
          ]}
        />
      }
    >
      {sheets.map(([name, sheet]) => (
        <Drawing key={name} name={name} sheet={sheet} props={props} />
      ))}
    </ChartFrame>
  );
}
