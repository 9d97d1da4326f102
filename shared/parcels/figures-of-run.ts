import type { Load } from './loads.ts';
import type { ScenarioCurve } from './option-curves.ts';
import type { Scenario } from './parcel-options-form.ts';

/** A load's figures, and the lowest and the highest outside and inside of each weather it was run through. */
export interface FiguresOfRun {
  box: string;
  conductanceWPerK: number;
  /** Of the contents and the packs that melt. */
  heatCapacityJPerK: number;
  startTempC: number;
  halfwayHours: number;
  /** Watts and hours are null where it gives no heat of its own. */
  pack: { name: string; count: number; watts: number | null; hours: number | null } | null;
  /** Minor units; of one pack. */
  prices: { box: number; pack: number };
  cases: readonly { scenario: Scenario; outsideC: [number, number]; lowestC: number; highestC: number }[];
}

/**
 * After how many hours a parcel without packs has lost half of its difference to the air outside.
 *
 * Units: W/K, J/K; hours.
 *
 * Source: lumped heat capacity, the difference falls with exp(-t UA / C): Incropera and DeWitt, chapter 5 (from memory).
 *
 * @example halfwayHours({ conductanceWPerK: 0.4, heatCapacityJPerK: 3_600 }) // 1.7
 */
export const halfwayHours = ({
  conductanceWPerK,
  heatCapacityJPerK,
}: Pick<FiguresOfRun, 'conductanceWPerK' | 'heatCapacityJPerK'>): number =>
  (Math.LN2 * heatCapacityJPerK) / conductanceWPerK / 3_600;

/** What a load was run with, and what came out of each weather: for whoever reckons it again. */
export function figuresOfRun(
  { box, pack, packs, conductanceWPerK, node, start }: Load,
  curves: readonly ScenarioCurve[],
): FiguresOfRun {
  const { heatCapacityJPerK } = node;
  const heat = pack?.kind === 'heat' ? pack : null;
  return {
    box: box.name,
    conductanceWPerK,
    heatCapacityJPerK,
    startTempC: start.tempC,
    halfwayHours: halfwayHours({ conductanceWPerK, heatCapacityJPerK }),
    pack: pack && { name: pack.name, count: packs, watts: heat?.watts ?? null, hours: heat?.hours ?? null },
    prices: { box: box.price, pack: pack?.price ?? 0 },
    cases: curves.map(({ scenario, outside, lowestC, highestC }) => {
      const temps = outside.map(({ tempC }) => tempC);
      return { scenario, outsideC: [Math.min(...temps), Math.max(...temps)], lowestC, highestC };
    }),
  };
}
