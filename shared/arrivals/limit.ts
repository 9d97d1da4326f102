import { type Arrival, type ArrivalCurve, fitArrivals, lackFor, tempAtLoss } from './arrival-curve.ts';

export type Side = 'low' | 'high';

/** The share of dead animals that is still borne; our own choice. */
export const bearableShare = 0.02;

export type Limits = {
  lethalLowC: number;
  safeLowC: number;
  idealLowC: number;
  idealHighC: number;
  safeHighC: number;
  lethalHighC: number;
};

export type Proposal = {
  /** To be taken over: the temperature, rounded to half a degree towards the safe side. */
  limitC: number;
  tempC: number;
  low: number;
  high: number;
};

/** Why no limit can be proposed. */
export type NoProposal = 'too little' | 'no slope' | 'wrong way' | 'outside' | 'between limits';

export type Lesson = { curve: ArrivalCurve | null; proposal: Proposal | null; why: NoProposal | null };

/**
 * What arrivals teach of one limit of a species: the curve, and the temperature at which expected losses pass
 * `bearableShare`. It is proposed only between temperatures that parcels have had, where losses rise towards the cold
 * (or the heat), and where it fits between the deadly and the ideal limit.
 *
 * @example learnLimit([], 'low', limits) // { curve: null, proposal: null, why: 'too little' }
 */
export function learnLimit(arrivals: readonly Arrival[], side: Side, limits: Limits): Lesson {
  const none = (why: NoProposal, curve: ArrivalCurve | null = null): Lesson => ({
    curve,
    proposal: null,
    why,
  });
  if (lackFor(arrivals) !== null) return none('too little');
  const curve = fitArrivals(arrivals);
  if (!curve) return none('no slope');
  if (side === 'low' ? curve.slopePerC >= 0 : curve.slopePerC <= 0) return none('wrong way', curve);
  const found = tempAtLoss(curve, bearableShare);
  if (!found) return none('no slope', curve);
  const temps = arrivals.map(({ tempC }) => tempC);
  if (found.tempC < Math.min(...temps) || found.tempC > Math.max(...temps)) return none('outside', curve);
  const limitC = side === 'low' ? Math.ceil(found.tempC * 2) / 2 : Math.floor(found.tempC * 2) / 2;
  const { lethalLowC, idealLowC, idealHighC, lethalHighC } = limits;
  const fits =
    side === 'low'
      ? limitC >= lethalLowC && limitC <= idealLowC
      : limitC >= idealHighC && limitC <= lethalHighC;
  return fits ? { curve, proposal: { limitC, ...found }, why: null } : none('between limits', curve);
}
