import type { HeatPack, ParcelPack } from './parcel-form.ts';

/** What the heat packs give over a stretch of hours: straight from one power to another. */
export interface Given {
  from: number;
  to: number;
  watts: number;
  wattsPerHour: number;
}

/** Shorter than this nothing is a stretch of time. */
const BLINK_H = 1e-9;

const isHeat = (pack: ParcelPack): pack is HeatPack => pack.kind === 'heat';

/** A heat pack's watts at an hour inside a stretch: rising through its warm-up, then steady to its end. */
function wattsAt({ watts, hours, warmUpHours }: HeatPack, hour: number): number {
  if (hour > hours) return 0;
  return hour < warmUpHours ? (watts * hour) / warmUpHours : watts;
}

/**
 * The power of all heat packs together over a trip, as stretches without a gap. A pack's power rises evenly through its
 * warm-up, stays, and stops at the end of its hours, which count from the start of the trip.
 *
 * Units: hours, watts. How evenly packs warm up and end differs by make and by the air they get: common practice, no
 * source.
 *
 * @example heatGiven([{ kind: 'heat', watts: 4, hours: 40, warmUpHours: 1 }], 48)
 * // 0 to 1 h: 0 rising by 4 an hour; 1 to 40 h: 4; 40 to 48 h: 0
 */
export function heatGiven(packs: readonly ParcelPack[], endHour: number): Given[] {
  const heat = packs.filter(isHeat);
  const breaks = new Set([0, endHour]);
  for (const { hours, warmUpHours } of heat)
    for (const hour of [hours, warmUpHours]) if (hour < endHour - BLINK_H) breaks.add(hour);
  const hours = [...breaks]
    .sort((a, b) => a - b)
    .filter((hour, i, all) => i === 0 || hour - (all[i - 1] ?? 0) > BLINK_H);
  return hours.slice(1).map((to, i) => {
    const from = hours[i] ?? 0;
    // Looked at inside the stretch: at its ends a pack may jump.
    const [early, late] = [from + (to - from) / 4, to - (to - from) / 4];
    const [wattsEarly, wattsLate] = [early, late].map((hour) =>
      heat.reduce((sum, pack) => sum + wattsAt(pack, hour), 0),
    ) as [number, number];
    const wattsPerHour = (wattsLate - wattsEarly) / (late - early);
    return { from, to, watts: wattsEarly - wattsPerHour * (early - from), wattsPerHour };
  });
}
