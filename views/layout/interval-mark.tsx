export type IntervalMarkProps = {
  lower: number;
  median: number;
  upper: number;
  /** What must stay: a notch under the line. */
  reserve?: number;
  /** How many the enclosure holds: a thin upright line. */
  capacity?: number;
  /** Right end of the scale; the largest of the numbers when left out. Give one for all rows of a table. */
  max?: number;
  /** Read out in place of the picture; leave out when the same number stands beside it in words. */
  label?: string;
};

const width = 160;
const height = 24;
const margin = 4;
const line = 11;

/** The doubt drawn: a hairline for the interval, a tick for the middle, the reserve as a notch. */
export function IntervalMark(props: IntervalMarkProps) {
  const { lower, median, upper, reserve, capacity, label } = props;
  const max = Math.max(props.max ?? Math.max(upper, reserve ?? 0, capacity ?? 0), 1);
  const x = (value: number) => {
    const share = Math.min(1, Math.max(0, value / max));
    return Math.round((margin + share * (width - 2 * margin)) * 10) / 10;
  };
  return (
    <svg
      class="interval-mark"
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      role={label ? 'img' : undefined}
      aria-label={label}
      aria-hidden={label ? undefined : true}
      focusable="false"
    >
      <line class="mark-scale" x1={margin} x2={width - margin} y1={line} y2={line} />
      <line class="mark-scale" x1={margin} x2={margin} y1={line - 3} y2={line + 3} />
      {capacity !== undefined && (
        <line class="mark-capacity" x1={x(capacity)} x2={x(capacity)} y1={line - 9} y2={line + 9} />
      )}
      <line class="mark-interval" x1={x(lower)} x2={x(upper)} y1={line} y2={line} />
      <line class="mark-middle" x1={x(median)} x2={x(median)} y1={line - 7} y2={line + 7} />
      {reserve !== undefined && <path class="mark-reserve" d={`M${x(reserve)} ${line + 2} l4 8 h-8 z`} />}
    </svg>
  );
}
