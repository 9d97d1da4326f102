import { countEstimate } from '../../shared/counts/count.ts';
import { type Count, countInput } from '../../shared/counts/form.ts';
import { CalculationError } from '../../shared/faults.ts';
import type { CurveCount, CurveData } from '../../views/counts/part-curve.tsx';
import type { Estimate } from '../counts/queries-estimate.ts';
import type { Culture } from './queries.ts';
import type { PopulationEntry } from './queries-diary.ts';

type Point = {
  onDay: string;
  beforeMedian: number;
  beforeLower: number;
  beforeUpper: number;
  afterMedian: number;
  afterLower: number;
  afterUpper: number;
};

const methodWords: Record<Count['method'], string> = {
  full: 'full count',
  visible: 'visible count',
  sample: 'sample of the substrate',
  removal: 'removal count',
  'mark-recapture': 'mark and recapture',
};

const countedIn = (count: Count): number =>
  'counted' in count
    ? count.counted
    : 'catches' in count
      ? count.catches.reduce((a, b) => a + b, 0)
      : count.caught;

function shareOf(count: Count): CurveCount['share'] {
  if (count.method === 'sample') return { value: count.fraction, words: 'was searched' };
  if (count.method !== 'visible') return undefined;
  const { alpha, beta } = count.detection;
  return { value: alpha / (alpha + beta), words: 'shows' };
}

/** A count as a dot with what it implies by itself; one that implies nothing by itself is left out of the picture. */
function dotOf(entry: PopulationEntry): CurveCount | null {
  const count = countInput.parse(JSON.parse(entry.countInput!));
  try {
    const implied = countEstimate(count);
    return {
      date: entry.onDay,
      counted: countedIn(count),
      impliedMedian: implied.estimate,
      impliedLower: implied.lower,
      impliedUpper: implied.upper,
      method: methodWords[count.method],
      share: shareOf(count),
    };
  } catch (error) {
    if (error instanceof CalculationError) return null;
    throw error;
  }
}

/** The stored points and events of a culture as the picture wants them. */
export function curveOf(
  culture: Culture,
  estimate: Estimate,
  points: Point[],
  entries: PopulationEntry[],
): CurveData {
  const past = points.flatMap((p) => [
    { date: p.onDay, median: p.beforeMedian, lower: p.beforeLower, upper: p.beforeUpper },
    { date: p.onDay, median: p.afterMedian, lower: p.afterLower, upper: p.afterUpper },
  ]);
  const founded = { date: culture.foundedOn, median: culture.foundingAnimals };
  const doubt = Math.exp(1.645 * culture.foundingSdLog);
  const now = {
    date: estimate.asOf,
    median: estimate.median ?? 0,
    lower: estimate.lower ?? 0,
    upper: estimate.upper ?? 0,
  };
  const moved = (kinds: string[]) =>
    entries
      .filter((e) => kinds.includes(e.kind))
      .map((e) => ({ date: e.onDay, animals: e.animals ?? 0, label: e.kind === 'split' ? 'split' : e.kind }));
  return {
    past: [{ ...founded, lower: founded.median / doubt, upper: founded.median * doubt }, ...past, now],
    ahead: estimate.forecast ? [now, ...(JSON.parse(estimate.forecast) as CurveData['ahead'])] : [],
    counts: entries.filter((e) => e.kind === 'count').flatMap((e) => dotOf(e) ?? []),
    removals: moved(['harvest', 'split']),
    additions: moved(['addition']),
    dieOffs: entries.filter((e) => e.kind === 'die-off').map((e) => ({ date: e.onDay })),
    capacity:
      estimate.capacityMedian === null
        ? null
        : {
            median: estimate.capacityMedian,
            lower: estimate.capacityLower ?? 0,
            upper: estimate.capacityUpper ?? 0,
          },
    reserve: estimate.reserve,
    today: estimate.asOf,
  };
}

/** The curve's title: what it shows to be true. */
export function findingOf(estimate: Estimate): string {
  const ahead = estimate.forecast ? (JSON.parse(estimate.forecast) as CurveData['ahead']) : [];
  const last = ahead.at(-1);
  const now = estimate.median ?? 0;
  if ((estimate.extinct ?? 0) > 0.5) return 'This culture has probably died out';
  const full = estimate.fullnessMedian ?? 0;
  if (full > 0.9) return 'At capacity: it grows only when animals are taken out';
  if (!last || now <= 0) return 'What is known of this culture';
  const change = last.median / now - 1;
  if (change > 0.05)
    return `Growing: about ${Math.round(change * 100)} % more animals in ${ahead.length} weeks, if nothing is taken`;
  return change < -0.05 ? 'Shrinking' : 'Holding steady';
}
