import { scaleLinear } from 'd3-scale';
import type { FeederWeek } from '../../shared/feeders/feeders.ts';
import { ChartFrame } from '../layout/chart-frame.tsx';
import { defaultLocale, formatDay, formatNumber, formatPercent } from '../layout/format.ts';
import { DataTable } from '../layout/table.tsx';

type ChartProps = { weeks: readonly FeederWeek[]; safety: number; finding: string; locale?: string };
type Sheet = { width: number; height: number; text: number };

const sheets: [string, Sheet][] = [
  ['desk', { width: 620, height: 240, text: 13 }],
  ['phone', { width: 350, height: 230, text: 13 }],
];
const round = (value: number) => Math.round(value * 10) / 10;

function layOut(weeks: readonly FeederWeek[], safety: number, { width, height, text }: Sheet) {
  const most = Math.max(10, ...weeks.map(({ demand, supply }) => Math.max(demand * safety, supply)));
  const y = scaleLinear()
    .domain([0, most])
    .nice(4)
    .range([height - text * 2, text * 2])
    .clamp(true);
  const left = 46;
  const step = (width - left - 6) / Math.max(1, weeks.length);
  return {
    left,
    right: width - 6,
    step,
    y: (v: number) => round(y(v)),
    ticks: y.ticks(4),
    x: (w: number) => round(left + w * step),
  };
}

type WeekProps = {
  week: FeederWeek;
  w: number;
  plan: ReturnType<typeof layOut>;
  props: ChartProps;
  sheet: Sheet;
  isNamed: boolean;
};

function Week({ week, w, plan, props, sheet, isNamed }: WeekProps) {
  const { x, y, step } = plan;
  const { text, height } = sheet;
  const top = y(Math.max(0, week.supply));
  const need = y(week.demand * props.safety);
  return (
    <g>
      <rect
        class={week.short ? 'feeder-short' : 'feeder-supply'}
        x={round(x(w) + step * 0.15)}
        y={top}
        width={round(step * 0.7)}
        height={round(y(0) - top)}
      />
      <line class="curve-line" x1={x(w)} x2={round(x(w) + step)} y1={need} y2={need} />
      {week.short && !props.weeks[w - 1]?.short && (
        <text class="curve-label" x={x(w) + 2} y={need - 5} font-size={text}>
          short
        </text>
      )}
      {isNamed && (
        <text x={x(w)} y={height - text * 0.6} font-size={text}>
          {formatDay(week.weekStart, props.locale, 'month-day')}
        </text>
      )}
    </g>
  );
}

function Drawing({ name, sheet, props }: { name: string; sheet: Sheet; props: ChartProps }) {
  const { weeks, safety, finding, locale = defaultLocale } = props;
  const plan = layOut(weeks, safety, sheet);
  const { left, right, y, ticks } = plan;
  const { text, width, height } = sheet;
  const every = name === 'phone' ? 4 : 2;
  return (
    <svg
      class={`curve feeder-chart curve-${name}`}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={finding}
    >
      <text x={0} y={text} font-size={text}>
        animals a week
      </text>
      {ticks.map((tick) => (
        <g key={tick}>
          <line
            class={tick === 0 ? 'curve-ground' : 'curve-grid'}
            x1={left}
            x2={right}
            y1={y(tick)}
            y2={y(tick)}
          />
          <text x={left - 5} y={y(tick) + 4} text-anchor="end" font-size={text}>
            {formatNumber(tick, locale)}
          </text>
        </g>
      ))}
      {weeks.map((week, w) => (
        <Week
          key={week.weekStart}
          week={week}
          w={w}
          plan={plan}
          props={props}
          isNamed={w % every === 0}
          sheet={sheet}
        />
      ))}
    </svg>
  );
}

/** What there is and what is needed, week by week. */
export function FeederChart(props: ChartProps) {
  const { weeks, safety, finding, locale = defaultLocale } = props;
  const number = (value: number) => formatNumber(value, locale);
  return (
    <ChartFrame
      finding={finding}
      computed="feeders"
      caption={`Bars: what the cultures give, with the planned starts; line: what the colonies eat, with ${formatPercent(safety - 1, locale)} to spare. A dashed bar is short.`}
      table={
        <DataTable
          caption="Supply and demand by week"
          hideCaption
          rows={weeks}
          rowKey={(week) => week.weekStart}
          columns={[
            {
              key: 'week',
              head: 'Week from',
              rowHeader: true,
              cell: (week) => formatDay(week.weekStart, locale),
            },
            {
              key: 'demand',
              head: 'Eaten',
              numeric: true,
              computed: 'feeders',
              cell: (week) => number(week.demand),
            },
            {
              key: 'supply',
              head: 'There',
              numeric: true,
              computed: 'feeders',
              cell: (week) => number(week.supply),
            },
            { key: 'short', head: 'Short', cell: (week) => (week.short ? 'short' : '') },
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
