import { z } from 'zod';
import { tempC } from '../climate/vapour.ts';

/** A fortnight on the way is no parcel any more. */
export const LONGEST_TRIP_H = 400;

const wattsPerKelvin = z.number().gt(0).max(1_000);
const lengthMm = z.number().gt(0).max(3_000);

/** A temperature of the air at an hour of the trip. */
const ambientPoint = z.strictObject({ hour: z.number().min(0).max(LONGEST_TRIP_H), tempC });
export type AmbientPoint = z.output<typeof ambientPoint>;

/** The air outside over the trip, straight between the points; two points of one hour are a step. */
export const ambientCurve = z
  .array(ambientPoint)
  .min(2)
  .max(20_000)
  .superRefine((points, context) => {
    if (points[0] && points[0].hour !== 0)
      context.addIssue({ code: 'custom', path: [0, 'hour'], message: 'must be 0, the start of the trip' });
    for (const [i, { hour }] of points.entries()) {
      const before = points[i - 1];
      if (before && hour < before.hour)
        context.addIssue({
          code: 'custom',
          path: [i, 'hour'],
          message: 'must not be before the one above it',
        });
    }
    if (points.length > 1 && points.at(-1)?.hour === 0)
      context.addIssue({ code: 'custom', message: 'must reach past hour 0' });
  });

const wallFields = {
  insideMm: z.tuple([lengthMm, lengthMm, lengthMm]).optional(),
  wallMm: z.number().gt(0).max(500).optional(),
  conductivityWPerMK: z.number().gt(0).max(500).optional(),
  filmWPerM2K: z
    .strictObject({ inside: z.number().gt(0).max(10_000), outside: z.number().gt(0).max(10_000) })
    .optional(),
};
const wallNames = ['insideMm', 'wallMm', 'conductivityWPerMK', 'filmWPerM2K'] as const;
type Wall = Partial<Record<(typeof wallNames)[number], unknown>> & { conductanceWPerK?: number | undefined };

/** A box by its wall, or by the conductance that was measured; `mayMeasureInside` lets the second tell its inside too. */
export function checkBox(box: Wall, context: z.RefinementCtx, mayMeasureInside = false): void {
  const fault = (path: string, message: string) =>
    context.addIssue({ code: 'custom', path: [path], message });
  for (const name of wallNames) {
    const isGiven = box[name] !== undefined;
    if (box.conductanceWPerK === undefined && !isGiven)
      fault(name, 'is missing: a box has its four measures, or conductanceWPerK');
    if (box.conductanceWPerK !== undefined && isGiven && !(mayMeasureInside && name === 'insideMm'))
      fault(name, 'does not go with conductanceWPerK: one or the other');
  }
}

export const boxFields = { ...wallFields, conductanceWPerK: wattsPerKelvin.optional() };
const parcelBox = z.strictObject(boxFields).superRefine((box, context) => checkBox(box, context));
export type ParcelBox = z.output<typeof parcelBox>;

export const heatPackFields = {
  kind: z.literal('heat'),
  watts: z.number().gt(0).max(1_000),
  hours: z.number().gt(0).max(LONGEST_TRIP_H),
  warmUpHours: z.number().min(0).max(LONGEST_TRIP_H).default(1),
};
export const meltingPackFields = {
  kind: z.literal('melting'),
  massKg: z.number().gt(0).max(100),
  meltingC: tempC,
  latentJPerKg: z.number().gt(0).max(3_000_000),
  startTempC: z.number().min(-90).max(70),
  heatCapacityJPerKgK: z.number().gt(0).max(20_000),
};

export function checkWarmUp(
  pack: { kind: string; hours?: number; warmUpHours?: number },
  context: z.RefinementCtx,
): void {
  if (pack.kind === 'heat' && (pack.warmUpHours ?? 0) > (pack.hours ?? 0))
    context.addIssue({
      code: 'custom',
      path: ['warmUpHours'],
      message: `must not be longer than hours, ${pack.hours}`,
    });
}

const parcelPack = z
  .discriminatedUnion('kind', [z.strictObject(heatPackFields), z.strictObject(meltingPackFields)])
  .superRefine(checkWarmUp);
export type ParcelPack = z.output<typeof parcelPack>;
export type HeatPack = Extract<ParcelPack, { kind: 'heat' }>;
export type MeltingPack = Extract<ParcelPack, { kind: 'melting' }>;

export const limitFields = {
  lethalLowC: tempC,
  safeLowC: tempC,
  safeHighC: tempC,
  lethalHighC: tempC,
};
export type ParcelLimits = Record<keyof typeof limitFields, number>;

export function checkLimits(limits: ParcelLimits, context: z.RefinementCtx): void {
  const fault = (path: string, message: string) =>
    context.addIssue({ code: 'custom', path: [path], message });
  if (limits.safeLowC < limits.lethalLowC) fault('safeLowC', 'must not be below lethalLowC');
  if (limits.safeHighC <= limits.safeLowC) fault('safeHighC', 'must be above safeLowC');
  if (limits.lethalHighC < limits.safeHighC) fault('lethalHighC', 'must not be below safeHighC');
}

export const parcelContents = z.strictObject({
  massKg: z.number().gt(0).max(1_000),
  heatCapacityJPerKgK: z.number().gt(0).max(20_000),
});
export type ParcelContents = z.output<typeof parcelContents>;

export const parcelInput = z.strictObject({
  ambient: ambientCurve,
  box: parcelBox,
  contents: parcelContents,
  startTempC: tempC,
  packs: z.array(parcelPack).max(20).default([]),
  limits: z.strictObject(limitFields).superRefine(checkLimits),
  stepMinutes: z.number().min(0.1).max(1_440).default(10),
});
export type ParcelQuestion = z.output<typeof parcelInput>;
