import { scaleLinear } from 'd3-scale';
import { celsiusToFahrenheit, type UnitSystem } from '../../shared/settings/units.ts';
import { exactTemp } from '../climate/say.ts';
import { ChartFrame } from '../layout/chart-frame.tsx';
import { formatNumber } from '../layout/format.ts';
import { DataTable } from '../layout/table.tsx';

export type LogChartProps = {
  readings: readonly { hour: number; insideC: number; outsideC: number }[];
  /** The inside of the fitted box at each reading; empty where there is no fit. */
  fittedC: readonly number[];
  finding: string;
  units: UnitSystem;
  locale: string | undefined;
};

type Sheet = typeof deskSheet;
const deskSheet = { width: 560, height: 270, left: 44, right: 470, top: 26, bottom: 226, text: 13 };
const phoneSheet: Sheet = { ...deskSheet, width: 350, right: 262, height: 250, bottom: 206 };
const sheets: [string, Sheet][] = [
  ['desk', deskSheet],
  ['phone', phoneSheet],
];
const MOST_DOTS = 120;
const round = (value: number) => Math.round(value * 10) / 10;

/** So many of a long row that a picture can show, always with its last. */
function thinned<T>(row: readonly T[]): T[] {
  const step = Math.max(1, Math.ceil(row.length / MOST_DOTS));
  return row.filter((_, i) => i % step === 0 || i === row.length - 1);
}

type Point = { hour: number; insideC: number; outsideC: number; fittedC: number | null };
const pointsOf = ({ readings, fittedC }: LogChartProps): Point[] =>
  thinned(readings.map((reading, i) => ({ ...reading, fittedC: fittedC[i] ?? null })));

function scalesOf({ units }: LogChartProps, points: readonly Point[], sheet: Sheet) {
  const shown = (tempC: number) => (units === 'us' ? celsiusToFahrenheit(tempC) : tempC);
  const all = points.flatMap(({ insideC, outsideC }) => [shown(insideC), shown(outsideC)]);
  const y = scaleLinear()
    .domain([Math.min(...all), Math.max(...all)])
    .nice(5)
    .range([sheet.bottom, sheet.top]);
  const x = scaleLinear()
    .domain([0, points.at(-1)?.hour ?? 1])
    .range([sheet.left, sheet.right]);
  return { x, y, tempY: (tempC: number) => round(y(shown(tempC))) };
}

/** Labels at the right end of their lines, kept a line of text apart. */
function labelsOf(points: readonly Point[], tempY: (tempC: number) => number) {
  const last = points.at(-1);
  if (!last) return [];
  const inside = { words: 'inside', y: tempY(last.insideC) };
  const outside = { words: 'outside', y: tempY(last.outsideC) };
  const [upper, lower] = inside.y <= outside.y ? [inside, outside] : [outside, inside];
  const gap = Math.max(0, 34 - (lower.y - upper.y)) / 2;
  return [
    { ...upper, y: upper.y - gap },
    { ...lower, y: lower.y + gap },
  ];
}

function Drawing({ name, sheet, props }: { name: string; sheet: Sheet; props: LogChartProps }) {
  const points = pointsOf(props);
  const { x, y, tempY } = scalesOf(props, points, sheet);
  const line = (of: (point: Point) => number | null) =>
    points.flatMap((point) => {
      const tempC = of(point);
      return tempC === null ? [] : [`${round(x(point.hour))} ${tempY(tempC)}`];
    });
  const fitted = line((point) => point.fittedC);
  return (
    <svg
      class={`curve room-curve curve-${name}`}
      viewBox={`0 0 ${sheet.width} ${sheet.height}`}
      role="img"
      aria-label={props.finding}
    >
      <text x={0} y={sheet.text} font-size={sheet.text}>
        {props.units === 'us' ? '°F' : '°C'}
      </text>
      {y.ticks(5).map((tick) => (
        <g key={tick}>
          <line class="curve-grid" x1={sheet.left} x2={sheet.right} y1={round(y(tick))} y2={round(y(tick))} />
          <text x={sheet.left - 6} y={round(y(tick)) + 4} text-anchor="end" font-size={sheet.text}>
            {tick}
          </text>
        </g>
      ))}
      <path class="curve-line curve-line-ahead" d={`M${line((point) => point.outsideC).join('L')}`} />
      {fitted.length > 0 && <path class="curve-line" d={`M${fitted.join('L')}`} />}
      {points.map((point) => (
        <circle
          key={point.hour}
          class="curve-dot"
          cx={round(x(point.hour))}
          cy={tempY(point.insideC)}
          r={2.5}
        />
      ))}
      {labelsOf(points, tempY).map(({ words, y: at }) => (
        <g key={words}>
          <text x={sheet.right + 8} y={at + 4} font-size={sheet.text}>
            {words}
          </text>
          {words === 'inside' && fitted.length > 0 && (
            <text x={sheet.right + 8} y={at + 19} font-size={sheet.text}>
              and fitted
            </text>
          )}
        </g>
      ))}
      <line class="curve-ground" x1={sheet.left} x2={sheet.right} y1={sheet.bottom} y2={sheet.bottom} />
      {x.ticks(5).map((hour) => (
        <text key={hour} x={round(x(hour))} y={sheet.bottom + 18} text-anchor="middle" font-size={sheet.text}>
          {hour} h
        </text>
      ))}
    </svg>
  );
}

/** A cooling log: dots what was read inside, the line what the fitted box would do, dashed the air outside. */
export function LogChart(props: LogChartProps) {
  const { finding, units, locale } = props;
  const temp = (tempC: number) => exactTemp(tempC, units, locale);
  return (
    <ChartFrame
      finding={finding}
      computed="box"
      caption="Dots: the inside as read; line: the inside of the fitted box; dashed: outside."
      table={
        <DataTable
          caption="The log"
          hideCaption
          rows={pointsOf(props)}
          rowKey={(point) => point.hour}
          columns={[
            { key: 'hour', head: 'Hour', rowHeader: true, cell: ({ hour }) => formatNumber(hour, locale, 2) },
            { key: 'inside', head: 'Inside', numeric: true, cell: ({ insideC }) => temp(insideC) },
            {
              key: 'fitted',
              head: 'Fitted',
              computed: 'box',
              numeric: true,
              cell: ({ fittedC }) => (fittedC === null ? '' : temp(fittedC)),
            },
            { key: 'outside', head: 'Outside', numeric: true, cell: ({ outsideC }) => temp(outsideC) },
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
