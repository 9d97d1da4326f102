import { z } from 'zod';

/** Rooms, parcels and the weather between them; beyond this a reading is a slip of the pen. */
export const COLDEST_C = -50;
export const WARMEST_C = 70;

export const tempC = z.number().min(COLDEST_C).max(WARMEST_C);
export const humidityPct = z.number().min(0).max(100);

/** One reading of the air. */
export const vapourInput = z.strictObject({ tempC, humidityPct });
export type VapourInput = z.output<typeof vapourInput>;

export interface Vapour {
  saturationKpa: number;
  vpdKpa: number;
}

/**
 * The vapour pressure of air that is full of water, over water, in kPa, at a temperature in degrees Celsius.
 * Below freezing it is that over undercooled water, which is a little more than over ice.
 *
 * Source: Allen, Pereira, Raes and Smith (1998), FAO Irrigation and Drainage Paper 56, equation 11.
 *
 * @example saturationKpa(20) // 2.338
 */
export function saturationKpa(tempC: number): number {
  return 0.6108 * Math.exp((17.27 * tempC) / (tempC + 237.3));
}

/**
 * How much more vapour the air could still take up, in kPa: saturation pressure times the share that is missing.
 *
 * Source: FAO-56 (1998), equations 11 and 54 (the deficit is the saturation pressure less the actual one).
 *
 * @example vpdKpa(25, 50) // 1.584
 */
export function vpdKpa(tempC: number, humidityPct: number): number {
  return saturationKpa(tempC) * (1 - humidityPct / 100);
}

/**
 * How dry a room is: the saturation vapour pressure and the vapour pressure deficit, both in kPa, from a temperature
 * in degrees Celsius and a relative humidity in percent. Water leaves a culture through its lid about in proportion
 * to the deficit, so the same humidity dries faster in a warm room.
 *
 * Errors: none for readings that a thermometer and a hygrometer can show.
 *
 * @example vapour({ tempC: 25, humidityPct: 80 }) // { saturationKpa: 3.168, vpdKpa: 0.634 }
 */
export function vapour(air: VapourInput): Vapour {
  return { saturationKpa: saturationKpa(air.tempC), vpdKpa: vpdKpa(air.tempC, air.humidityPct) };
}
