/** What a small curve shows at one place from the left, 0 to 1. */
export type SparkPoint = { at: number; middle: number; lower: number; upper: number };

const width = 112;
const height = 30;
const edge = 3;

const round = (value: number) => Math.round(value * 10) / 10;

function placer(points: readonly SparkPoint[], from: number) {
  const middles = points.map(({ middle }) => middle);
  // A doubt far above all else would press the line flat: it is cut off above.
  const top = Math.min(
    Math.max(...points.map(({ upper }) => upper)),
    from + (Math.max(...middles) - from) * 2,
  );
  const span = Math.max(top - from, 1e-9);
  const share = (value: number) => Math.min(1, Math.max(0, (value - from) / span));
  return {
    x: (at: number) => round(edge + at * (width - 2 * edge)),
    y: (value: number) => round(height - edge - share(value) * (height - 2 * edge)),
  };
}

export type SparklineProps = {
  points: readonly SparkPoint[];
  /** The value of the ground line: 0 for numbers of animals. */
  from?: number;
  /** A stepped or dashed second line, as what is needed beside what there is. */
  beside?: readonly { at: number; value: number }[];
};

/** A curve the size of a word: a line with its doubt as a band. The words beside it say the same, so it is hidden from
 * those who listen. */
export function Sparkline({ points, from = 0, beside = [] }: SparklineProps) {
  const last = points.at(-1);
  if (points.length < 2 || !last) return null;
  const all = [
    ...points,
    ...beside.map(({ at, value }) => ({ at, middle: value, lower: value, upper: value })),
  ];
  const { x, y } = placer(all, from);
  const way = (value: (point: SparkPoint) => number) => points.map((p) => `${x(p.at)},${y(value(p))}`);
  const band = [...way((p) => p.upper), ...way((p) => p.lower).reverse()].join(' ');
  return (
    <svg
      class="spark"
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      aria-hidden="true"
      focusable="false"
    >
      <line class="spark-ground" x1={0} x2={width} y1={height - 1} y2={height - 1} />
      <polygon class="spark-band" points={band} />
      {beside.length > 1 && (
        <polyline class="spark-beside" points={beside.map((b) => `${x(b.at)},${y(b.value)}`).join(' ')} />
      )}
      <polyline class="spark-line" points={way((p) => p.middle).join(' ')} />
      <circle class="spark-now" cx={x(last.at)} cy={y(last.middle)} r={2.2} />
    </svg>
  );
}
