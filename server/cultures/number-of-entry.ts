import { countInput } from '../../shared/counts/form.ts';
import { mlOf, shownVolume, type VolumeUnit, volumeUnitsOf } from '../../shared/settings/typed-volume.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import type { DiaryLine, NewEntry } from './queries-diary.ts';

type WaterUnit = { value: VolumeUnit; label: string };

/** The smallest measure of the house: water is given in small amounts. */
const waterUnit = (units: UnitSystem): WaterUnit => volumeUnitsOf(units)[0] ?? { value: 'ml', label: 'ml' };

const inUnit = (waterMl: number, { value }: WaterUnit): number =>
  value === 'ml' ? waterMl : Number(shownVolume(waterMl, value));

/** The one number of an entry that can be mended in place, and what it is called. */
export function numberOf(
  entry: DiaryLine,
  units: UnitSystem,
): { label: string; value: number | null } | null {
  if (entry.kind === 'water') {
    const unit = waterUnit(units);
    return {
      label: `Water, ${unit.label}`,
      value: entry.waterMl === null ? null : inUnit(entry.waterMl, unit),
    };
  }
  if (entry.kind === 'harvest' || entry.kind === 'addition')
    return { label: 'Animals', value: entry.animals };
  if (entry.kind === 'die-off')
    return { label: 'Percent lost', value: Math.round((1 - (entry.survivalMedian ?? 1)) * 100) };
  if (entry.kind !== 'count' || !entry.countInput) return null;
  const count = countInput.parse(JSON.parse(entry.countInput));
  return 'counted' in count ? { label: 'Counted', value: count.counted } : null;
}

/** The columns that change with the number, for the entry's kind. */
export function numberColumns(
  entry: DiaryLine,
  number: number,
  units: UnitSystem,
): Partial<NewEntry> | string {
  // Only the day or the note is mended: the make-up and the wording stay.
  if (number === numberOf(entry, units)?.value) return {};
  if (entry.kind === 'water')
    return number > 0 ? { waterMl: mlOf(number, waterUnit(units).value) } : 'More than zero.';
  if (entry.kind === 'die-off')
    return number > 0 && number < 100 ? { survivalMedian: 1 - number / 100 } : 'Between 1 and 99.';
  if (!Number.isInteger(number)) return 'A whole number.';
  if (entry.kind === 'count') {
    const before = JSON.parse(entry.countInput!) as object;
    return { countInput: JSON.stringify(countInput.parse({ ...before, counted: number })), wording: null };
  }
  return number > 0 ? { animals: number, adults: null, juveniles: null } : 'At least one.';
}
