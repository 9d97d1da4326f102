import type { Scenario } from '../../shared/parcels/parcel-options-form.ts';
import { celsiusToFahrenheit } from '../../shared/settings/units.ts';
import { speakerFor } from '../words/speaker.ts';
import type { Warnings } from './characters.ts';
import {
  asPlaced,
  boxMark,
  type Element,
  fillMark,
  lineMarks,
  type Mark,
  type Placed,
  ruleMark,
  type Stroke,
} from './drawing.ts';
import type { Slab } from './flow.ts';
import { wrap } from './lines.ts';
import type { PackingCurve, PackingParcel } from './packing-parcel-data.ts';
import { type BenchStyle, words } from './packing-style.ts';
import { HAIRLINE } from './paper.ts';
import type { Reader } from './print-options.ts';
import { spread } from './spread.ts';

/** Told apart without colour: by the line, and by the words at its end. */
export const CURVES: Record<Scenario, { words: string; stroke: Stroke }> = {
  forecast: { words: 'as forecast', stroke: { widthPt: 1.8 } },
  colder: { words: 'colder', stroke: { widthPt: 1.3, dash: [7, 3] } },
  warmer: { words: 'warmer', stroke: { widthPt: 1.3, dash: [3, 3] } },
  late: { words: 'one day late', stroke: { widthPt: 2, dash: [0.1, 4] } },
};

const OUTSIDE: Stroke = { widthPt: 0.7, ink: 0.55 };
const LEFT_PT = 40;
const RIGHT_PT = 92;
const PLOT_PT = 132;
const FOOT_PT = 27;

interface Plot {
  toX(hour: number): number;
  toY(tempC: number): number;
  left: number;
  right: number;
  top: number;
  bottom: number;
  lowC: number;
  highC: number;
  lastHour: number;
}

/** The range of the axes: all curves and the safe limits, with a little air. */
function rangeOf({ curves, limits }: PackingParcel) {
  const points = curves.flatMap((curve) => curve.points);
  const temps = points.flatMap(({ insideC, outsideC }) => [insideC, outsideC]);
  const low = Math.min(limits.safeLowC, ...temps);
  const high = Math.max(limits.safeHighC, ...temps);
  return { lowC: low - 1.5, highC: high + 1.5, lastHour: Math.max(1, ...points.map(({ hour }) => hour)) };
}

/** The expected temperature inside over the trip in every scenario, against the limits. */
export function curveDrawing(
  parcel: PackingParcel,
  widthPt: number,
  reader: Reader,
  owner: Element,
  warnings: Warnings,
): Slab {
  const heightPt = PLOT_PT + FOOT_PT;
  return {
    heightPt,
    gapPt: 4,
    keepWithNext: true,
    draw: (xPt, yPt) => {
      owner.box = [xPt, yPt, xPt + widthPt, yPt + heightPt];
      const plot = plotOf(parcel, xPt, yPt, widthPt);
      return [
        ...asPlaced([...limitMarks(parcel, plot), ...curveMarks(parcel, plot)], owner),
        ...axes(plot, reader, owner, warnings),
        ...endLabels(parcel, plot, reader, owner, warnings),
      ];
    },
  };
}

function plotOf(parcel: PackingParcel, xPt: number, yPt: number, widthPt: number): Plot {
  const range = rangeOf(parcel);
  const [left, right] = [xPt + LEFT_PT, xPt + widthPt - RIGHT_PT];
  const [top, bottom] = [yPt + 4, yPt + PLOT_PT];
  return {
    ...range,
    left,
    right,
    top,
    bottom,
    toX: (hour) => left + ((right - left) * hour) / range.lastHour,
    toY: (tempC) => bottom - ((bottom - top) * (tempC - range.lowC)) / (range.highC - range.lowC),
  };
}

/** The safe band is left white between heavy lines, what lies outside it is grey. */
function limitMarks({ limits }: PackingParcel, plot: Plot): Mark[] {
  const { left, right, top, bottom, toY } = plot;
  const [safeLow, safeHigh] = [toY(limits.safeLowC), toY(limits.safeHighC)];
  return [
    fillMark(left, top, right - left, Math.max(0, safeHigh - top), 0.13),
    fillMark(left, safeLow, right - left, Math.max(0, bottom - safeLow), 0.13),
    ...[safeLow, safeHigh].map((y) => ruleMark(left, y, right, y, { widthPt: 1.1 })),
    boxMark(left, top, right - left, bottom - top, { widthPt: HAIRLINE }),
  ];
}

function curveMarks({ curves }: PackingParcel, plot: Plot): Mark[] {
  const path = (points: PackingCurve['points'], of: 'insideC' | 'outsideC', stroke: Stroke): Mark => ({
    kind: 'path',
    points: points.map((point) => [plot.toX(point.hour), plot.toY(point[of])]),
    closed: false,
    stroke,
  });
  const forecast = curves.filter(({ scenario }) => scenario === 'forecast');
  return [
    ...forecast.map(({ points }) => path(points, 'outsideC', OUTSIDE)),
    ...curves.map(({ scenario, points }) => path(points, 'insideC', CURVES[scenario].stroke)),
  ];
}

const shown = (tempC: number, reader: Reader) => (reader.units === 'us' ? celsiusToFahrenheit(tempC) : tempC);

/** Round temperatures between two, about six of them. */
function stepsIn(low: number, high: number): number[] {
  const step = [1, 2, 5, 10, 20, 50].find((size) => (high - low) / size <= 8) ?? 100;
  const first = Math.ceil(low / step);
  const count = Math.max(0, Math.floor(high / step) - first + 1);
  return Array.from({ length: count }, (_each, index) => (first + index) * step);
}

/** Steps of the time axis: so that about six fit, and days are seen. */
const stepOf = (hours: number) => [3, 6, 12, 24, 48].find((step) => hours / step <= 8) ?? 96;

function axes(plot: Plot, reader: Reader, owner: Element, warnings: Warnings): Placed[] {
  const { left, right, bottom, toX, toY, lastHour } = plot;
  const inUnits = stepsIn(shown(plot.lowC, reader), shown(plot.highC, reader));
  const back = (value: number) => (reader.units === 'us' ? ((value - 32) * 5) / 9 : value);
  const text = (
    said: string,
    xPt: number,
    yPt: number,
    align: 'right' | 'centre',
    style: BenchStyle = 'label',
  ) => textAt(said, { xPt, yPt, align, style }, owner, warnings);
  const temps = inUnits.flatMap((value) => {
    const y = toY(back(value));
    return [
      ...asPlaced([ruleMark(left - 3, y, left, y, { widthPt: HAIRLINE })], owner),
      ...text(`${value}°`.replace('-', '−'), left - 5, y - 6.4, 'right'),
    ];
  });
  const step = stepOf(lastHour);
  const hours = Array.from({ length: Math.floor(lastHour / step) + 1 }, (_each, index) => index * step);
  const times = hours.flatMap((hour) => {
    const x = toX(hour);
    return [
      ...asPlaced([ruleMark(x, bottom, x, bottom + 3, { widthPt: HAIRLINE })], owner),
      ...text(String(hour), x, bottom + 3, 'centre'),
    ];
  });
  const title = `hours after it leaves; temperature in ${reader.units === 'us' ? '°F' : '°C'}`;
  return [...temps, ...times, ...text(title, (left + right) / 2, bottom + 14, 'centre')];
}

interface At {
  xPt: number;
  yPt: number;
  align: 'left' | 'right' | 'centre';
  style: BenchStyle;
}

function textAt(said: string, at: At, owner: Element, warnings: Warnings): Placed[] {
  const line = wrap([words(said, at.style)], Number.POSITIVE_INFINITY, warnings)[0];
  if (!line) return [];
  const shift = at.align === 'right' ? line.widthPt : at.align === 'centre' ? line.widthPt / 2 : 0;
  return lineMarks(line, at.xPt - shift, at.yPt, owner);
}

/** What is named at the right of the picture, and where it ends. `stroke` null: a limit. */
interface End {
  said: string;
  x: number;
  tempC: number;
  stroke: Stroke | null;
}

function endsOf({ curves, limits }: PackingParcel, plot: Plot, reader: Reader): End[] {
  const speaker = speakerFor(reader);
  const temp = (tempC: number, rounding: 'up' | 'down') => speaker.temp(tempC, reader.units, rounding);
  const found: End[] = [
    { said: `safe from ${temp(limits.safeLowC, 'up')}`, x: plot.right, tempC: limits.safeLowC, stroke: null },
    {
      said: `safe to ${temp(limits.safeHighC, 'down')}`,
      x: plot.right,
      tempC: limits.safeHighC,
      stroke: null,
    },
  ];
  for (const { scenario, points } of curves) {
    const last = points.at(-1);
    if (!last) continue;
    const { words: said, stroke } = CURVES[scenario];
    const x = plot.toX(last.hour);
    found.push({ said, x, tempC: last.insideC, stroke });
    if (scenario === 'forecast') found.push({ said: 'outside', x, tempC: last.outsideC, stroke: OUTSIDE });
  }
  return found.sort((a, b) => b.tempC - a.tempC);
}

const LABEL_PT = 12.5;

/** Words at the right end of every curve and limit, kept apart, each with a line to what it names. */
function endLabels(
  parcel: PackingParcel,
  plot: Plot,
  reader: Reader,
  owner: Element,
  warnings: Warnings,
): Placed[] {
  const ends = endsOf(parcel, plot, reader);
  const centres = spread(
    ends.map(({ tempC }) => plot.toY(tempC)),
    ends.map(() => LABEL_PT),
    plot.top - 4,
    plot.bottom + 4,
  );
  return ends.flatMap(({ said, x, tempC, stroke }, index) => {
    const y = centres[index] ?? plot.toY(tempC);
    const from = plot.right + 3;
    const lead: Mark = {
      kind: 'path',
      points: [
        [x, plot.toY(tempC)],
        [plot.right, plot.toY(tempC)],
        [from + 5, y],
      ],
      closed: false,
      stroke: { widthPt: HAIRLINE },
    };
    // a piece of the curve's own line, so that nobody has to follow it to its end
    const sample = stroke ? [ruleMark(from + 7, y, from + 23, y, stroke)] : [];
    const style: BenchStyle = stroke ? 'label' : 'limit';
    return [
      ...asPlaced([lead, ...sample], owner),
      ...textAt(said, { xPt: from + (stroke ? 27 : 8), yPt: y - 6.4, align: 'left', style }, owner, warnings),
    ];
  });
}
