import { type Believed, trendWay } from '../../shared/counts/trend.ts';
import { daysBetween } from '../../shared/days.ts';
import { formatNumber } from '../layout/format.ts';
import { Sparkline } from '../layout/sparkline.tsx';

const twoFigures = (value: number) => {
  const step = 10 ** Math.max(0, Math.floor(Math.log10(Math.max(1, value))) - 1);
  return Math.round(value / step) * step;
};

function wordsOf(points: readonly Believed[], locale?: string): string {
  const [first] = points;
  const way = trendWay(points);
  if (!first || way === null) return 'too new to say';
  if (way === 'unclear') return 'no clear change';
  return `${way} from about ${formatNumber(twoFigures(first.median), locale)}`;
}

/** How a number went over the last half year: a small curve with its doubt, and the same in words. */
export function Trend({ points, locale }: { points: readonly Believed[]; locale?: string }) {
  const [first] = points;
  const last = points.at(-1);
  const span = first && last ? Math.max(1, daysBetween(first.onDay, last.onDay)) : 1;
  const at = (onDay: string) => (first ? daysBetween(first.onDay, onDay) / span : 0);
  return (
    <span class="trend">
      <Sparkline
        points={points.map(({ onDay, median, lower, upper }) => ({
          at: at(onDay),
          middle: median,
          lower,
          upper,
        }))}
      />
      <span class="trend-words">{wordsOf(points, locale)}</span>
    </span>
  );
}
