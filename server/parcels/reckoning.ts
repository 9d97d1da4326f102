import type { ContentsOfParcel } from '../../shared/parcels/parcel-contents.ts';
import type { ParcelLimits } from '../../shared/parcels/parcel-form.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import type { ParcelReckoning } from '../../views/parcels/say-worked-out.ts';
import type { Decision } from './decide.ts';

/** The figures that a closely looked at option was run with, and what came out of it. */
export function reckoningOf(
  { load, picked, curves }: Decision,
  contents: ContentsOfParcel,
  limits: ParcelLimits,
  units: UnitSystem,
): ParcelReckoning {
  const { box, pack, conductanceWPerK, node, start } = load;
  const isHeat = pack?.kind === 'heat';
  return {
    box: box.name,
    conductanceWPerK,
    contentsKg: contents.massKg,
    contentsJPerKgK: contents.heatCapacityJPerKgK,
    heatCapacityJPerK: node.heatCapacityJPerK,
    startTempC: start.tempC,
    pack: pack && {
      name: pack.name,
      count: picked.packs,
      watts: isHeat ? pack.watts : null,
      hours: isHeat ? pack.hours : null,
    },
    limits,
    cases: curves.map(({ scenario, outside, lowestC, highestC }) => {
      const temps = outside.map(({ tempC }) => tempC);
      return { scenario, outsideC: [Math.min(...temps), Math.max(...temps)], lowestC, highestC };
    }),
    units,
  };
}
