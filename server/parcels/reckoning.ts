import { figuresOfRun } from '../../shared/parcels/figures-of-run.ts';
import type { ContentsOfParcel } from '../../shared/parcels/parcel-contents.ts';
import type { ParcelLimits } from '../../shared/parcels/parcel-form.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import type { ParcelReckoning } from '../../views/parcels/say-worked-out.ts';
import type { Decision } from './decide.ts';

/** The figures that a closely looked at option was run with, and what came out of it. */
export const reckoningOf = (
  { load, curves }: Decision,
  { massKg, heatCapacityJPerKgK, parts }: ContentsOfParcel,
  limits: ParcelLimits,
  units: UnitSystem,
): ParcelReckoning => ({
  ran: figuresOfRun(load, curves),
  contents: { massKg, heatCapacityJPerKgK, parts },
  limits,
  units,
});
