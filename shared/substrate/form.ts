import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { cubicFeetToLitres, dryQuartsToLitres, quartsToLitres, type UnitSystem } from '../settings/units.ts';

/** Units in which substrate is measured and sold, each in litres. */
const litresPerUnit = {
  l: 1,
  qt: quartsToLitres(1),
  'dry-qt': dryQuartsToLitres(1),
  'cu-ft': cubicFeetToLitres(1),
} as const;
export type BulkUnit = keyof typeof litresPerUnit;

export const bulkUnitWords: Record<BulkUnit, string> = {
  l: 'L',
  qt: 'qt (liquid)',
  'dry-qt': 'dry qt',
  'cu-ft': 'cu ft',
};

/** The unit a field begins with. */
export const usualBulkUnit = (units: UnitSystem): BulkUnit => (units === 'us' ? 'qt' : 'l');

export const bulkUnit = z
  .enum(Object.keys(litresPerUnit) as [BulkUnit, ...BulkUnit[]], { error: 'Choose a unit of the list.' })
  .catch('l');

/**
 * Litres of so many of a unit.
 *
 * @example bulkLitres(8, 'dry-qt') // 8.80976754172: a bag of eight US dry quarts
 */
export const bulkLitres = (amount: number, unit: BulkUnit): number => amount * litresPerUnit[unit];

/** Litres as a field in that unit shows them, to a hundredth. */
export const shownBulk = (litres: number, unit: BulkUnit): string =>
  String(Math.round((litres / litresPerUnit[unit]) * 100) / 100);

export const inHandField = typedNumber({ min: 0, max: 100_000 });
export const bagField = typedNumber({ above: 0, max: 10_000 });

/** How much more than needed is mixed, in percent. */
export const spareField = typedNumber({ min: 0, max: 200 });
/** A tenth more: what sticks to the tub, and what is spilt. Common practice, no source. */
export const usualSpare = 0.1;

/** How many weeks a list looks ahead. */
export const spanChoices = [1, 2, 4] as const;
export type Span = (typeof spanChoices)[number];
export const spanForm = z.object({
  weeks: z.coerce
    .number()
    .pipe(z.union([z.literal(1), z.literal(2), z.literal(4)]))
    .catch(1),
});
