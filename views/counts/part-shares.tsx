import { logBeta } from '../../shared/numbers/log-gamma.ts';
import { formatPercent } from '../layout/format.ts';

export type Share = { alpha: number; beta: number };
export type SharesProps = { before: Share; after: Share /** Shares of single visits. */; visits: number[] };

const width = 600;
const height = 220;
const ground = 180;
const steps = 120;

const density = ({ alpha, beta }: Share, p: number) =>
  Math.exp((alpha - 1) * Math.log(p) + (beta - 1) * Math.log1p(-p) - logBeta(alpha, beta));

const ps = Array.from({ length: steps }, (_, i) => (i + 0.5) / steps);
const x = (p: number) => Math.round(p * width * 10) / 10;

/** Before and after as curves over the share that shows, each visit as a dot on the axis. */
export function Shares({ before, after, visits }: SharesProps) {
  const highest = Math.max(...ps.flatMap((p) => [density(before, p), density(after, p)]));
  const y = (value: number) => Math.round((ground - (value / highest) * (ground - 30)) * 10) / 10;
  const path = (share: Share) => `M${ps.map((p) => `${x(p)} ${y(density(share, p))}`).join('L')}`;
  const top = (share: Share) => {
    const p = ps.reduce((best, each) => (density(share, each) > density(share, best) ? each : best), 0.5);
    return { x: Math.min(width - 50, Math.max(50, x(p))), y: Math.max(16, y(density(share, p)) - 8) };
  };
  const [was, is] = [top(before), top(after)];
  const close = Math.abs(was.x - is.x) < 60 && Math.abs(was.y - is.y) < 20;
  return (
    <svg
      class="curve"
      viewBox={`-8 0 ${width + 16} ${height}`}
      role="img"
      aria-label="The share that shows, before and after"
    >
      <path class="curve-ground" d={`M0 ${ground}H${width}`} />
      <path class="curve-line curve-line-ahead" d={path(before)} />
      <path class="curve-line" d={path(after)} />
      <text class="curve-label" x={was.x} y={close ? was.y + 22 : was.y} text-anchor="middle" font-size="15">
        before
      </text>
      <text class="curve-label curve-now" x={is.x} y={is.y} text-anchor="middle" font-size="15">
        after
      </text>
      {visits.map((share, index) => (
        <circle key={`${index} ${share}`} class="curve-dot" cx={x(Math.min(1, share))} cy={ground} r="5" />
      ))}
      {[0, 0.25, 0.5, 0.75, 1].map((p) => (
        <text
          key={p}
          x={x(p)}
          y={ground + 26}
          text-anchor={p === 0 ? 'start' : p === 1 ? 'end' : 'middle'}
          font-size="15"
        >
          {`${formatPercent(p)}${p === 1 ? ' show' : ''}`}
        </text>
      ))}
    </svg>
  );
}
