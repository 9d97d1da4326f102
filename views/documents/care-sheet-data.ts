import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import type { CareText, TemperatureLimits } from '../../shared/species/columns.ts';
import type { SubstrateMix } from '../../shared/species/substrate.ts';

/** One species as a beginner gets it: one page. Plain data, metric; the sheet turns it into the reader's units. */
export interface CareSheetData {
  scientificName: string;
  commonName: string;
  enclosure: CareEnclosure;
  /** What to mix for one enclosure (`enclosures: 1`, no spare), layers bottom up. */
  recipe: SubstrateMix['layers'];
  text: CareText;
  /**
   * Cautions of this species, such as irritating hairs or keeping it from children and pets. The cautions that hold
   * for all captive invertebrates (no release, allergy, local law) are printed on every sheet and are not given here.
   */
  cautions: string[];
  limits: TemperatureLimits;
  /** Where these animals come from; null on a sheet for no batch in particular. */
  batch: CareBatch | null;
}

export interface CareEnclosure {
  /** Such as `1 litre cup`. */
  name: string;
  measures: EnclosureMeasures;
  /** Bottom up. */
  layers: { name: string; depthMm: number }[];
  freeHeadMm: number;
  /** In words, such as `holes in the lid`; empty if none is known. */
  ventilation: string;
  /** The third that is kept moist; `none` when the enclosure is moist all over. */
  moistSide: 'left' | 'right' | 'none';
}

export interface CareBatch {
  cultureCode: string;
  /** Empty if no line is kept. */
  line: string;
  /** `YYYY-MM-DD` */
  packedOn: string;
  /** Empty if the animals belong to no order. */
  orderNumber: string;
  customerName: string;
}
