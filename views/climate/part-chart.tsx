import { scaleLinear } from 'd3-scale';
import type { Span } from '../../shared/climate/downsample.ts';
import { celsiusToFahrenheit, formatTemp, type UnitSystem } from '../../shared/settings/units.ts';
import { ChartFrame } from '../layout/chart-frame.tsx';
import { formatDay, formatMoment } from '../layout/format.ts';
import { DataTable } from '../layout/table.tsx';
import { exactTemp } from './say.ts';

export type ChartProps = {
  spans: readonly Span[];
  /** Two days are drawn by the clock, others by days. */
  isHours: boolean;
  range: { lowC: number; highC: number } | null;
  units: UnitSystem;
  timeZone: string;
  locale: string;
};

type Sheet = typeof deskSheet;
const deskSheet = { width: 560, height: 250, left: 44, right: 548, top: 26, bottom: 216, text: 13 };
const phoneSheet: Sheet = { ...deskSheet, width: 350, right: 344, height: 230, bottom: 196 };
const sheets: [string, Sheet][] = [
  ['desk', deskSheet],
  ['phone', phoneSheet],
];
const round = (value: number) => Math.round(value * 10) / 10;
const dayOf = (at: number) => new Date(at).toISOString().slice(0, 10);

function scalesOf({ spans, range, units }: ChartProps, sheet: Sheet) {
  const shown = (tempC: number) => (units === 'us' ? celsiusToFahrenheit(tempC) : tempC);
  const all = spans.flatMap(({ low, high }) => [low, high]);
  // A limit far from all that was read would press the readings flat: it is said in words instead.
  const near = (limitC: number) => limitC >= Math.min(...all) - 6 && limitC <= Math.max(...all) + 6;
  const limits = range ? [range.lowC, range.highC].filter(near) : [];
  const y = scaleLinear()
    .domain([Math.min(...all, ...limits) - 1, Math.max(...all, ...limits) + 1].map(shown))
    .nice(5)
    .range([sheet.bottom, sheet.top]);
  const first = spans[0]?.at ?? 0;
  const last = Math.max(first + 3_600_000, spans.at(-1)?.at ?? 0);
  const x = scaleLinear().domain([first, last]).range([sheet.left, sheet.right]);
  return {
    x: (at: number) => round(x(at)),
    y: (tempC: number) => round(y(shown(tempC))),
    ticks: y.ticks(5),
    tickY: (v: number) => round(y(v)),
    limits,
  };
}

type Scales = ReturnType<typeof scalesOf>;

function findingOf({ spans, range, units, locale }: ChartProps): string {
  const low = Math.min(...spans.map((span) => span.low));
  const high = Math.max(...spans.map((span) => span.high));
  const words = `Between ${exactTemp(low, units, locale)} and ${exactTemp(high, units, locale)}`;
  if (!range) return words;
  const outs = [low < range.lowC && 'too cold', high > range.highC && 'too warm'].filter(Boolean);
  return outs.length > 0
    ? `${words}: at times ${outs.join(' and ')} for what is kept here`
    : `${words}: safe for all that is kept here`;
}

function Axis({ scales, units, sheet }: { scales: Scales; units: UnitSystem; sheet: Sheet }) {
  return (
    <g>
      <text x={0} y={sheet.text} font-size={sheet.text}>
        {units === 'us' ? '°F' : '°C'}
      </text>
      {scales.ticks.map((tick) => (
        <g key={tick}>
          <line
            class="curve-grid"
            x1={sheet.left}
            x2={sheet.right}
            y1={scales.tickY(tick)}
            y2={scales.tickY(tick)}
          />
          <text x={sheet.left - 6} y={scales.tickY(tick) + 4} text-anchor="end" font-size={sheet.text}>
            {tick}
          </text>
        </g>
      ))}
    </g>
  );
}

function Limits({ scales, props, sheet }: { scales: Scales; props: ChartProps; sheet: Sheet }) {
  const { range, units, locale } = props;
  return (
    <g>
      {scales.limits.map((limitC) => {
        const isHigh = limitC === range?.highC;
        const words = isHigh
          ? `harm above ${formatTemp(limitC, units, locale, 'down')}`
          : `harm below ${formatTemp(limitC, units, locale, 'up')}`;
        const at = scales.y(limitC);
        return (
          <g key={limitC}>
            <line class="curve-capacity" x1={sheet.left} x2={sheet.right} y1={at} y2={at} />
            <text class="curve-label" x={sheet.left + 6} y={at + (isHigh ? -5 : 15)} font-size={sheet.text}>
              {words}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function Drawing({ name, sheet, props }: { name: string; sheet: Sheet; props: ChartProps }) {
  const { spans, isHours, timeZone, locale } = props;
  const scales = scalesOf(props, sheet);
  const corner = (span: Span, tempC: number) => `${scales.x(span.at)} ${scales.y(tempC)}`;
  const band = [...spans.map((s) => corner(s, s.high)), ...[...spans].reverse().map((s) => corner(s, s.low))];
  const when = (at: number) =>
    isHours ? formatMoment(at, timeZone, locale) : formatDay(dayOf(at), locale, 'month-day');
  const [first, last] = [spans[0]?.at ?? 0, spans.at(-1)?.at ?? 0];
  return (
    <svg
      class={`curve room-curve curve-${name}`}
      viewBox={`0 0 ${sheet.width} ${sheet.height}`}
      role="img"
      aria-label={findingOf(props)}
    >
      <Axis scales={scales} units={props.units} sheet={sheet} />
      <path class="curve-band" d={`M${band.join('L')}Z`} />
      <path class="curve-line" d={`M${spans.map((s) => corner(s, s.middle)).join('L')}`} />
      {spans.length === 1 && (
        <circle class="curve-dot" cx={scales.x(first)} cy={scales.y(spans[0]?.middle ?? 0)} r={3} />
      )}
      <Limits scales={scales} props={props} sheet={sheet} />
      <line class="curve-ground" x1={sheet.left} x2={sheet.right} y1={sheet.bottom} y2={sheet.bottom} />
      <text x={sheet.left} y={sheet.bottom + 18} font-size={sheet.text}>
        {when(first)}
      </text>
      {last > first && (
        <text x={sheet.right} y={sheet.bottom + 18} text-anchor="end" font-size={sheet.text}>
          {when(last)}
        </text>
      )}
    </svg>
  );
}

/** The temperatures of a place: band from lowest to highest, line the mean, the limits of what is kept there. */
export function RoomChart(props: ChartProps) {
  const { spans, isHours, units, timeZone, locale } = props;
  const temp = (tempC: number) => exactTemp(tempC, units, locale);
  return (
    <ChartFrame
      finding={findingOf(props)}
      computed="air"
      caption="Line: the mean; band: from the lowest to the highest reading; thin line across: what the species kept here bear safely."
      table={
        <DataTable
          caption="Temperatures"
          hideCaption
          rows={spans}
          rowKey={(span) => span.at}
          columns={[
            {
              key: 'when',
              head: 'When',
              rowHeader: true,
              cell: ({ at }) => (isHours ? formatMoment(at, timeZone, locale) : formatDay(dayOf(at), locale)),
            },
            { key: 'low', head: 'Lowest', numeric: true, computed: 'air', cell: ({ low }) => temp(low) },
            { key: 'mean', head: 'Mean', numeric: true, computed: 'air', cell: ({ middle }) => temp(middle) },
            { key: 'high', head: 'Highest', numeric: true, computed: 'air', cell: ({ high }) => temp(high) },
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
