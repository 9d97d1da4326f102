import { area, line } from 'd3-shape';
import { formatEstimate } from '../layout/round-estimate.ts';
import type { CurveChange, CurveCount, CurveData, CurvePoint, MonthTick, Plan } from './curve-plan.ts';

type LayerProps = { plan: Plan; data: CurveData; locale: string };

/** About how wide words are, in the text's own size. */
const widthOf = (words: string, sheet: Plan['sheet']) => words.length * sheet.text * 0.56;

/** A month's name stands behind its tick, before it where the sheet ends. */
function Month({ month, plan }: { month: MonthTick; plan: Plan }) {
  const { bottom, strip, sheet } = plan;
  const monthLine = bottom + strip;
  const isLast = month.x + 3 + widthOf(month.year ?? month.label, sheet) > sheet.width;
  const place = { x: month.x + (isLast ? -3 : 3), 'text-anchor': isLast ? 'end' : 'start' } as const;
  return (
    <g font-size={sheet.text}>
      <line class="curve-tick" x1={month.x} x2={month.x} y1={monthLine} y2={monthLine + 5} />
      <text {...place} y={monthLine + sheet.text * 1.3}>
        {month.label}
      </text>
      {month.year && (
        <text {...place} y={monthLine + sheet.text * 2.5}>
          {month.year}
        </text>
      )}
    </g>
  );
}

/** The axes: animals upwards, months to the right, both in words. */
export function Axes({ plan, locale }: Omit<LayerProps, 'data'>) {
  const { left, right, bottom, strip, sheet } = plan;
  const monthLine = bottom + strip;
  return (
    <g class="curve-axes">
      <text x={0} y={sheet.text} font-size={sheet.text}>
        animals
      </text>
      {plan.yTicks.map((tick) => (
        <g key={tick}>
          <line
            class={tick === 0 ? 'curve-ground' : 'curve-grid'}
            x1={left}
            x2={right}
            y1={plan.y(tick)}
            y2={plan.y(tick)}
          />
          <text x={left - 6} y={plan.y(tick) + sheet.text * 0.35} text-anchor="end" font-size={sheet.text}>
            {tick.toLocaleString(locale)}
          </text>
        </g>
      ))}
      {plan.months.map((month) => (
        <Month key={`${month.x}`} month={month} plan={plan} />
      ))}
      <line class="curve-tick" x1={left} x2={right} y1={monthLine} y2={monthLine} />
    </g>
  );
}

function bandOf(plan: Plan, points: readonly CurvePoint[]): string {
  const shape = area<CurvePoint>()
    .x((point) => plan.x(point.date))
    .y0((point) => plan.y(point.lower))
    .y1((point) => plan.y(point.upper));
  return shape([...points]) ?? '';
}

function lineOf(plan: Plan, points: readonly CurvePoint[], value: (point: CurvePoint) => number): string {
  const shape = line<CurvePoint>()
    .x((point) => plan.x(point.date))
    .y((point) => plan.y(value(point)));
  return shape([...points]) ?? '';
}

/** Band and line of the estimate; dashed where it looks ahead. */
export function Bands({ plan, data }: Omit<LayerProps, 'locale'>) {
  const lastKnown = data.past.at(-1);
  const ahead = lastKnown && data.ahead.length > 0 ? [lastKnown, ...data.ahead] : data.ahead;
  return (
    <g>
      <path class="curve-band" d={bandOf(plan, data.past)} />
      <path class="curve-band curve-band-ahead" d={bandOf(plan, ahead)} />
      <path class="curve-edge" d={lineOf(plan, ahead, (point) => point.lower)} />
      <path class="curve-edge" d={lineOf(plan, ahead, (point) => point.upper)} />
      <path class="curve-line" d={lineOf(plan, data.past, (point) => point.median)} />
      <path class="curve-line curve-line-ahead" d={lineOf(plan, ahead, (point) => point.median)} />
    </g>
  );
}

const isCapacityInside = ({ plan, data: { capacity } }: Omit<LayerProps, 'locale'>) =>
  capacity !== null && plan.y(capacity.median) > plan.top + 1;

/** What the enclosure holds and what must stay: thin lines. */
export function Limits({ plan, data }: Omit<LayerProps, 'locale'>) {
  const { capacity, reserve } = data;
  const { left, right } = plan;
  return (
    <g>
      {capacity && isCapacityInside({ plan, data }) && (
        <line
          class="curve-capacity"
          x1={left}
          x2={right}
          y1={plan.y(capacity.median)}
          y2={plan.y(capacity.median)}
        />
      )}
      {reserve !== null && (
        <g>
          <line class="curve-reserve" x1={left} x2={right} y1={plan.y(reserve)} y2={plan.y(reserve)} />
          <path class="curve-notch" d={`M${right - 9} ${plan.y(reserve)} l9 -5 v10 z`} />
        </g>
      )}
    </g>
  );
}

/** The words of both, over all that is drawn. */
export function LimitWords({ plan, data, locale }: LayerProps) {
  const { capacity, reserve } = data;
  const { left, right, top, sheet } = plan;
  const isInside = isCapacityInside({ plan, data });
  return (
    <g font-size={sheet.text}>
      {capacity && (
        <text class="curve-label" x={left + 5} y={isInside ? plan.y(capacity.median) - 5 : top + sheet.text}>
          holds {formatEstimate(capacity.median, capacity.lower, capacity.upper, locale)}
          {!isInside && ', beyond this chart'}
        </text>
      )}
      {reserve !== null && (
        <text class="curve-label" x={right - 13} y={plan.y(reserve) - 5} text-anchor="end">
          must stay: {Math.ceil(reserve).toLocaleString(locale)}
        </text>
      )}
    </g>
  );
}

function CountMark({ plan, count }: { plan: Plan; count: CurveCount }) {
  const x = plan.x(count.date);
  const middle = plan.y(count.impliedMedian);
  return (
    <g>
      <line
        class="curve-implied"
        x1={x}
        x2={x}
        y1={plan.y(count.impliedLower)}
        y2={plan.y(count.impliedUpper)}
      />
      <line class="curve-implied" x1={x - 4} x2={x + 4} y1={middle} y2={middle} />
      <circle class="curve-dot" cx={x} cy={plan.y(count.counted)} r={3.5} />
    </g>
  );
}

/** Whether the last count's words fit to its left without covering another dot. */
function isFreeToLeft(plan: Plan, others: readonly CurveCount[], last: CurveCount): boolean {
  const width = plan.sheet.text * 4.6;
  const [x, y] = [plan.x(last.date), plan.y(last.counted)];
  if (x - width < plan.left) return false;
  return others.every((other) => {
    const isNear =
      plan.x(other.date) > x - width - 4 && Math.abs(plan.y(other.counted) - y) < plan.sheet.text;
    return !isNear;
  });
}

/** Where the last count's words stand: left of the dot, else right of it, else under it at the end of the sheet. */
function placeLast(plan: Plan, counts: readonly CurveCount[], words: string) {
  const last = counts.at(-1);
  if (!last) return null;
  const { sheet } = plan;
  const [x, y] = [plan.x(last.date), plan.y(last.counted) + sheet.text * 0.35];
  if (isFreeToLeft(plan, counts.slice(0, -1), last)) return { x: x - 8, y, 'text-anchor': 'end' } as const;
  if (x + 8 + widthOf(words, sheet) <= sheet.width) return { x: x + 8, y, 'text-anchor': 'start' } as const;
  return { x: plan.right, y: y + sheet.text * 1.2, 'text-anchor': 'end' } as const;
}

/** Each count: a dot at what was seen, a hairline for what it implies. The last one in words. */
export function Counts({ plan, data, locale }: LayerProps) {
  const last = data.counts.at(-1);
  const words = last ? `${last.counted.toLocaleString(locale)} seen` : '';
  const place = placeLast(plan, data.counts, words);
  return (
    <g>
      {data.counts.map((count) => (
        <CountMark key={`${count.date} ${count.method} ${count.counted}`} plan={plan} count={count} />
      ))}
      {place && (
        <text class="curve-label" {...place} font-size={plan.sheet.text}>
          {words}
        </text>
      )}
    </g>
  );
}

type Kind = 'out' | 'in' | 'die-off';

type Mark = { kind: Kind; date: string; words: string };

const order: Record<Kind, number> = { 'die-off': 0, out: 1, in: 2 };

function marksOf(data: CurveData): Mark[] {
  const of = (kind: Kind, sign: string) => (change: CurveChange) => ({
    kind,
    date: change.date,
    words: `${sign}${Math.round(change.animals)}`,
  });
  return [
    ...data.removals.map(of('out', '\u2212')),
    ...data.additions.map(of('in', '+')),
    ...data.dieOffs.map(({ date, label }) => ({ kind: 'die-off' as const, date, words: label ?? 'die-off' })),
  ].sort((a, b) => (a.date === b.date ? order[a.kind] - order[b.kind] : a.date < b.date ? -1 : 1));
}

/** Words that would run into the ones before stay away, a die-off's last; the table has them all. */
function placeWords(marks: readonly Mark[], plan: Plan): Set<Mark> {
  const placed = new Map<Mark, [number, number]>();
  const byWeight = [...marks].sort((a, b) => order[a.kind] - order[b.kind]);
  for (const mark of byWeight) {
    const half = mark.words.length * plan.sheet.text * 0.28 + 2;
    const [from, to] = [plan.x(mark.date) - half, plan.x(mark.date) + half];
    const isFree = [...placed.values()].every(([start, end]) => to < start || from > end);
    if (isFree && from >= plan.left - 8 && to <= plan.right + 10) placed.set(mark, [from, to]);
  }
  return new Set(placed.keys());
}

function markPath(kind: Kind, x: number, ground: number): string {
  if (kind === 'out') return `M${x} ${ground} l-5 -9 h10 z`;
  if (kind === 'in') return `M${x} ${ground - 9} l-5 9 h10 z`;
  return `M${x - 5} ${ground - 11} l10 10 m0 -10 l-10 10`;
}

/** On the ground: a notch down for what was taken out, up for what was put in, a cross for a die-off. */
export function Changes({ plan, data }: Omit<LayerProps, 'locale'>) {
  const marks = marksOf(data);
  const withWords = placeWords(marks, plan);
  const { bottom, sheet } = plan;
  return (
    <g>
      {marks.map((mark, index) => {
        const x = plan.x(mark.date);
        return (
          <g key={`${mark.date} ${index}`}>
            <path
              class={mark.kind === 'die-off' ? 'curve-cross' : 'curve-notch'}
              d={markPath(mark.kind, x, bottom)}
            />
            {withWords.has(mark) && (
              <text x={x} y={bottom + sheet.text * 1.15} text-anchor="middle" font-size={sheet.text}>
                {mark.words}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

/** Today, with the number that the page is about. */
export function Today({ plan, data, locale }: LayerProps) {
  const now = data.past.at(-1);
  if (!now) return null;
  const x = plan.x(data.today);
  const { top, bottom, sheet } = plan;
  const hasRoomAhead = plan.right - x > sheet.text * 4;
  const words = formatEstimate(now.median, now.lower, now.upper, locale);
  return (
    <g>
      <line class="curve-today" x1={x} x2={x} y1={top - sheet.text * 0.6} y2={bottom} />
      <text class="curve-label curve-now" x={x - 5} y={sheet.text} text-anchor="end" font-size={sheet.text}>
        today: {words}
      </text>
      {hasRoomAhead && (
        <text class="curve-label" x={x + 5} y={sheet.text} font-size={sheet.text}>
          ahead
        </text>
      )}
      <circle class="curve-here" cx={x} cy={plan.y(now.median)} r={3} />
    </g>
  );
}
