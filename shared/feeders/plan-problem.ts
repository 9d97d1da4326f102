import type { Column, Problem, Row } from '../orders/solver.ts';
import type { FeedersQuestion } from './form.ts';
import { givesInWeek, suppliesOf } from './supply.ts';

/**
 * The plan as whole numbers: for each week how many cultures are started, and whether the week is short (1) or covered
 * (0). The columns are the starts of all weeks, then the shortness of all weeks.
 */
export interface Plan {
  weeks: number;
  columns: readonly Column[];
  rows: readonly Row[];
}

/** So many starts are never of use in one week, by what each week lacks and the best culture for it gives. */
function mostStarts(gains: readonly number[][], lacks: readonly number[], ratio: number): number {
  const starts = lacks.map((lack, w) => {
    const best = Math.max(0, ...gains.map((of) => of[w] ?? 0));
    return lack > 0 && best > 0 ? Math.ceil(lack / best) : 0;
  });
  const sum = starts.reduce((a, b) => a + b, 0);
  return Math.ceil(sum * ratio) + lacks.length;
}

/** What each week must have from starts, beyond what runs already. */
function lacksOf(question: FeedersQuestion): number[] {
  const running = suppliesOf(question, []);
  return question.weeks.map(({ demand }, w) => question.safety * demand - (running[w] ?? 0));
}

export function planOf(question: FeedersQuestion): Plan {
  const { weeks, culture } = question;
  const lacks = lacksOf(question);
  const gains = weeks.map(({ weekStart }, v) =>
    weeks.map((week, w) => (w < v ? 0 : givesInWeek(culture, weekStart, week.weekStart))),
  );
  const most = mostStarts(gains, lacks, culture.yield / (culture.yield - culture.seedAdults));
  const net = (v: number, w: number) => (gains[v]?.[w] ?? 0) - (v === w ? culture.seedAdults : 0);
  const canGain = weeks.map((_, w) => weeks.some((_week, v) => net(v, w) > 0));
  const isLost = (w: number) => !canGain[w] && (lacks[w] ?? 0) > 0;
  const starts = weeks.map((): Column => ({ cost: 0, lower: 0, upper: most, whole: true }));
  const short = weeks.map((_, w): Column => ({ cost: 0, lower: isLost(w) ? 1 : 0, upper: 1, whole: true }));
  const rows = weeks.map((_, w): Row => {
    const terms: [number, number][] = [];
    for (let v = 0; v <= w; v += 1) if (net(v, w) !== 0) terms.push([v, net(v, w)]);
    // A short week may lack everything it needs and what the starts take out of it.
    terms.push([weeks.length + w, Math.max(0, lacks[w] ?? 0) + culture.seedAdults * most]);
    return { lower: lacks[w] ?? 0, upper: Infinity, terms };
  });
  return { weeks: weeks.length, columns: [...starts, ...short], rows };
}

/** The plan with a price on each column, and with what was reached before held fast. */
export function problemOf(
  plan: Plan,
  goal: 'fewest short weeks' | 'fewest starts' | 'latest starts',
  reached: { short?: number; starts?: number },
): Problem {
  const { weeks, columns, rows } = plan;
  const sum = (from: number, upper: number): Row => ({
    lower: 0,
    upper,
    terms: Array.from({ length: weeks }, (_, w): [number, number] => [from + w, 1]),
  });
  const priced = columns.map((column, at): Column => {
    const isStart = at < weeks;
    const cost = goal === 'fewest short weeks' ? (isStart ? 0 : 1) : isStart ? 1 : 0;
    return { ...column, cost: goal === 'latest starts' && isStart ? weeks - at : cost };
  });
  const held = [
    ...(reached.short === undefined ? [] : [sum(weeks, reached.short)]),
    ...(reached.starts === undefined ? [] : [sum(0, reached.starts)]),
  ];
  return { maximise: false, columns: priced, rows: [...rows, ...held] };
}
