import { type Arrival, type ArrivalCurve, curveNeeds } from '../../shared/arrivals/arrival-curve.ts';
import { bearableShare, type Proposal, type Side } from '../../shared/arrivals/limit.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import { formatCount, formatNumber } from '../layout/format.ts';
import { apart, exactLimit, percent } from './say.ts';

type Lesson = {
  side: Side;
  arrivals: readonly Arrival[];
  curve: ArrivalCurve | null;
  proposal: Proposal | null;
};
type Reader = { units: UnitSystem; locale?: string | undefined };

/** The curve in degrees Celsius, in which it is kept, and where it passes the share that is borne. */
function sayCurve(curve: ArrivalCurve, proposal: Proposal | null, { units, locale }: Reader): string[] {
  const number = (value: number, digits = 3) => formatNumber(value, locale, digits);
  const plus = (value: number, digits: number) =>
    `${value < 0 ? '−' : '+'} ${number(Math.abs(value), digits)}`;
  const { intercept, slopePerC, centreC } = curve;
  const odds = `chance to die = 1 ÷ (1 + e^−(${number(intercept)} ${plus(slopePerC, 4)} × (°C − ${number(centreC, 2)})))`;
  if (!proposal) return [`Nearest to the parcels: ${odds}.`];
  const target = Math.log(bearableShare / (1 - bearableShare));
  const inUnits = units === 'us' ? `, which is ${exactLimit(proposal.tempC, units, locale)}` : '';
  return [
    `Nearest to the parcels: ${odds}.`,
    `It is ${percent(bearableShare, locale)} where what stands after e^− is ln(${number(bearableShare, 2)} ÷ ${number(1 - bearableShare, 2)}) = ${number(target)}: ${number(centreC, 2)} + (${number(target)} − (${number(intercept)})) ÷ ${number(slopePerC, 4)} = ${number(proposal.tempC, 1)} °C${inUnits}; half a degree or less to the safe side, ${exactLimit(proposal.limitC, units, locale)}.`,
  ];
}

function saySide({ side, arrivals, curve, proposal }: Lesson, reader: Reader): string[] {
  if (arrivals.length === 0) return [];
  const { units, locale } = reader;
  const temps = arrivals.map(({ tempC }) => tempC);
  const losses = arrivals.filter(({ dead }) => dead > 0).length;
  const [low, high] = [Math.min(...temps), Math.max(...temps)].map((tempC) =>
    exactLimit(tempC, units, locale),
  );
  const { parcels, withLosses, spanC } = curveNeeds;
  const needs = curve
    ? ''
    : `; a curve needs ${parcels} parcels, ${withLosses} of them with losses, over ${apart(spanC, units)}`;
  return [
    `${side === 'low' ? 'Cold' : 'Heat'}: ${formatCount(arrivals.length, 'parcel', 'parcels', locale)}, ${losses} of them with losses, with ${side === 'low' ? 'their coldest' : 'their warmest'} ${low === high ? `at ${low}` : `from ${low} to ${high}`}${needs}.`,
    ...(curve ? sayCurve(curve, proposal, reader) : []),
  ];
}

/** What went into the limits that arrivals teach, step by step. */
export const sayLessons = (sides: readonly Lesson[], reader: Reader): string[] =>
  sides.flatMap((side) => saySide(side, reader));

/** The share of dead animals of some parcels together: `3 dead ÷ 28 sent = 10.7 %`. */
export const sayLosses = (
  { name, dead, sent }: { name: string; dead: number; sent: number },
  locale?: string,
): [latin: string, rest: string] => [
  name,
  `: ${formatNumber(dead, locale)} dead ÷ ${formatNumber(sent, locale)} sent = ${percent(dead / sent, locale)}.`,
];
