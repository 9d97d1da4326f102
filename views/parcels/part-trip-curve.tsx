import { scaleLinear } from 'd3-scale';
import type { ChoiceCurve } from '../../shared/parcels/choice.ts';
import { celsiusToFahrenheit, type UnitSystem } from '../../shared/settings/units.ts';

export type TripLimits = { safeLowC: number; safeHighC: number };

export type TripCurveProps = {
  curve: ChoiceCurve;
  limits: TripLimits;
  units: UnitSystem;
  /** Read out in place of the picture. */
  finding: string;
  /** The lowest and highest of all curves that stand beside one another, so that they share a scale. */
  range?: readonly [number, number] | undefined;
  size?: 'card' | 'panel';
};

const sheets = {
  card: { width: 300, height: 128, left: 30, right: 292, top: 10, bottom: 104, text: 11, ticks: 3 },
  panel: { width: 350, height: 210, left: 36, right: 342, top: 14, bottom: 178, text: 13, ticks: 5 },
};
const round = (value: number) => Math.round(value * 10) / 10;

/** The lowest and highest of some curves and their limits. */
export function rangeOf(
  curves: readonly ChoiceCurve[],
  { safeLowC, safeHighC }: TripLimits,
): [number, number] {
  const all = curves.flatMap(({ points }) => points.flatMap(({ insideC, outsideC }) => [insideC, outsideC]));
  return [Math.min(safeLowC, ...all), Math.max(safeHighC, ...all)];
}

/** The inside of a parcel over its trip against what its animals bear: line inside, dashed outside. */
export function TripCurve(props: TripCurveProps) {
  const { curve, limits, units, finding, size = 'panel' } = props;
  const sheet = sheets[size];
  const shown = (tempC: number) => (units === 'us' ? celsiusToFahrenheit(tempC) : tempC);
  const [low, high] = props.range ?? rangeOf([curve], limits);
  const y = scaleLinear()
    .domain([shown(low) - 1, shown(high) + 1])
    .range([sheet.bottom, sheet.top]);
  const lastHour = curve.points.at(-1)?.hour ?? 1;
  const x = scaleLinear().domain([0, lastHour]).range([sheet.left, sheet.right]);
  const at = (tempC: number) => round(y(shown(tempC)));
  const line = (of: 'insideC' | 'outsideC') =>
    `M${curve.points.map((point) => `${round(x(point.hour))} ${at(point[of])}`).join('L')}`;
  const [top, bottom] = [at(limits.safeHighC), at(limits.safeLowC)];
  const hours = x.ticks(size === 'card' ? 3 : 5).filter((hour) => hour > 0);
  return (
    <svg
      class="curve trip-curve"
      viewBox={`0 0 ${sheet.width} ${sheet.height}`}
      role="img"
      aria-label={finding}
    >
      <rect
        class="curve-band trip-safe"
        x={sheet.left}
        width={sheet.right - sheet.left}
        y={top}
        height={Math.max(0, bottom - top)}
      />
      {[top, bottom].map((edge) => (
        <line key={edge} class="curve-edge" x1={sheet.left} x2={sheet.right} y1={edge} y2={edge} />
      ))}
      {y.ticks(sheet.ticks).map((tick) => (
        <text key={tick} x={sheet.left - 5} y={round(y(tick)) + 4} text-anchor="end" font-size={sheet.text}>
          {tick}°
        </text>
      ))}
      <path class="curve-line curve-line-ahead trip-outside" d={line('outsideC')} />
      <path class="curve-line" d={line('insideC')} />
      <line class="curve-ground" x1={sheet.left} x2={sheet.right} y1={sheet.bottom} y2={sheet.bottom} />
      {hours.map((hour) => (
        <text
          key={hour}
          x={round(x(hour))}
          y={sheet.bottom + sheet.text + 4}
          text-anchor={x(hour) > sheet.right - 16 ? 'end' : 'middle'}
          font-size={sheet.text}
        >
          {hour} h
        </text>
      ))}
    </svg>
  );
}
