import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import { formatLength, type UnitSystem } from '../../shared/settings/units.ts';

/** The inside measures in a line: "29 × 19 cm, 11 cm high". */
export function measureWords(measures: EnclosureMeasures, units: UnitSystem, locale?: string): string {
  const length = (mm: number) => formatLength(mm, units, locale);
  const high = `${length(measures.heightMm)} high`;
  if (measures.shape === 'box') return `${length(measures.lengthMm)} × ${length(measures.widthMm)}, ${high}`;
  if (measures.shape === 'cylinder') return `${length(measures.diameterMm)} across, ${high}`;
  return `${length(measures.topDiameterMm)} across at the rim, ${length(measures.bottomDiameterMm)} at the floor, ${high}`;
}

export const shapeName = { box: 'box', cylinder: 'round, straight', frustum: 'round, sloping' } as const;
