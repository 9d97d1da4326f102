import { classes } from '../layout/classes.ts';
import { formatNumber } from '../layout/format.ts';
import { formatExpected } from './say-count-next.ts';

export type GainBar = { code: string; now: number; expected: number };

type Plan = { width: number; codeWidth: number; wordWidth: number; rowHeight: number; font: number };

const desk: Plan = { width: 720, codeWidth: 130, wordWidth: 110, rowHeight: 28, font: 15 };
const phone: Plan = { width: 360, codeWidth: 96, wordWidth: 78, rowHeight: 30, font: 14 };

const one = (value: number) => Math.round(value * 10) / 10;

type BarProps = { bar: GainBar; plan: Plan; y: number; scale: number; locale?: string };

function Bar({ bar, plan, y, scale, locale }: BarProps) {
  const x = (groups: number) => one(plan.codeWidth + Math.max(0, groups) * scale);
  const [now, ahead] = [x(bar.now), x(Math.max(bar.now, bar.expected))];
  const height = plan.rowHeight - 12;
  const base = y + plan.rowHeight / 2 + plan.font / 3;
  return (
    <g>
      <text class="gain-code" x={0} y={one(base)} font-size={plan.font}>
        {bar.code}
      </text>
      <rect class="gain-ahead" x={now} y={y + 6} width={one(ahead - now)} height={height} />
      <rect
        class="gain-now"
        x={plan.codeWidth}
        y={y + 6}
        width={one(Math.max(now - plan.codeWidth, 1))}
        height={height}
      />
      <text x={one(ahead + 8)} y={one(base)} font-size={plan.font}>
        {formatNumber(bar.now, locale)} → {formatExpected(bar.expected, locale)}
      </text>
    </g>
  );
}

type DrawingProps = { bars: readonly GainBar[]; plan: Plan; name: string; locale?: string };

function Drawing({ bars, plan, name, locale }: DrawingProps) {
  const top = 24;
  const room = plan.width - plan.codeWidth - plan.wordWidth;
  const most = Math.max(1, ...bars.map((bar) => Math.max(bar.now, bar.expected)));
  const scale = room / most;
  const height = top + bars.length * plan.rowHeight + 6;
  const step = Math.max(1, Math.ceil(most / (plan === desk ? 8 : 4)));
  const ticks = Array.from({ length: Math.floor(most / step) + 1 }, (_, i) => i * step);
  return (
    <svg
      class={classes('gain-bars', name)}
      viewBox={`0 0 ${plan.width} ${height}`}
      role="img"
      aria-label={`Groups now and after a count, for ${bars.length} cultures`}
    >
      {ticks.map((groups) => (
        <g key={groups}>
          <line
            class="gain-grid"
            x1={one(plan.codeWidth + groups * scale)}
            x2={one(plan.codeWidth + groups * scale)}
            y1={top - 4}
            y2={height - 4}
          />
          <text
            x={one(plan.codeWidth + groups * scale)}
            y={top - 9}
            text-anchor="middle"
            font-size={plan.font - 2}
          >
            {groups === 0 ? '0 groups' : groups}
          </text>
        </g>
      ))}
      {bars.map((bar, i) => (
        <Bar
          key={bar.code}
          bar={bar}
          plan={plan}
          y={top + i * plan.rowHeight}
          scale={scale}
          locale={locale}
        />
      ))}
    </svg>
  );
}

/** Each culture's groups now as a full bar, and what a count can be expected to add as a hatched one. */
export function GainBars({
  bars,
  finding,
  locale,
}: Omit<DrawingProps, 'plan' | 'name'> & { finding: string }) {
  if (bars.length === 0) return null;
  return (
    <figure class="chart">
      <figcaption class="chart-words" data-computed="count-next">
        <span class="chart-finding">{finding}</span>
        <span class="chart-caption">
          Full: groups spare now. Outlined: what a count can be expected to add. The list says the same.
        </span>
      </figcaption>
      <Drawing bars={bars} plan={desk} name="gain-desk" locale={locale} />
      <Drawing bars={bars} plan={phone} name="gain-phone" locale={locale} />
    </figure>
  );
}
