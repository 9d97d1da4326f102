import type { EnclosureMeasures } from '../enclosures/volume.ts';
import { CalculationError } from '../faults.ts';
import type { SubstrateLayer } from '../species/columns.ts';
import {
  type MaterialLitres,
  type SayLength,
  type SubstrateMix,
  substrateMix,
} from '../species/substrate.ts';

/** So many enclosures to fill for a culture, with the recipe for it. */
export type Filling<Origin> = {
  enclosure: { id: number; name: string; measures: EnclosureMeasures };
  layers: readonly SubstrateLayer[];
  enclosures: number;
  origin: Origin;
};

/** Enclosures of one kind that are filled from one mix. */
export type Batch<Origin> = {
  enclosure: Filling<Origin>['enclosure'];
  layers: readonly SubstrateLayer[];
  enclosures: number;
  origins: Origin[];
  /** What one takes, times this, is what all take with the share on top. */
  forAll: number;
  /** Null where the layers do not fit into the enclosure; `fault` says so then. */
  mix: SubstrateMix | null;
  fault: string | null;
};

export type MixList<Origin> = { batches: Batch<Origin>[]; totals: MaterialLitres[] };

/**
 * Answers: how many litres of which material to mix for the enclosures that are to be filled, batch by batch: those of
 * the same kind with the same recipe are one batch. `spare` is the share mixed on top (0.1: a tenth more). Layers that
 * stand above the rim of their enclosure are named as a fault of their batch and left out of the totals.
 *
 * @example mixList([{ enclosure: box200x100x90mm, layers: [soil50mm], enclosures: 2, origin: 'A-1' }], 0.1).totals
 * // [{ material: 'soil', litres: 2.2 }]: a litre each and a tenth to spare
 */
export function mixList<Origin>(
  fillings: readonly Filling<Origin>[],
  spare: number,
  say?: SayLength,
): MixList<Origin> {
  const batches = new Map<string, Batch<Origin>>();
  for (const { enclosure, layers, enclosures, origin } of fillings) {
    const key = JSON.stringify([enclosure.id, layers]);
    const batch = batches.get(key);
    if (batch) {
      batch.enclosures += enclosures;
      batch.origins.push(origin);
    } else
      batches.set(key, {
        enclosure,
        layers,
        enclosures,
        origins: [origin],
        forAll: 0,
        mix: null,
        fault: null,
      });
  }
  const totals = new Map<string, number>();
  for (const batch of batches.values()) {
    mixInto(batch, spare, say);
    for (const { material, litres } of batch.mix?.totals ?? [])
      totals.set(material, (totals.get(material) ?? 0) + litres);
  }
  return {
    batches: [...batches.values()].sort((a, b) => a.enclosure.name.localeCompare(b.enclosure.name, 'en')),
    totals: [...totals].map(([material, litres]) => ({ material, litres })),
  };
}

function mixInto(batch: Batch<unknown>, spare: number, say?: SayLength) {
  const { enclosure, layers, enclosures } = batch;
  batch.forAll = enclosures * (1 + spare);
  try {
    batch.mix = substrateMix({ enclosure: enclosure.measures, layers: [...layers], enclosures, spare }, say);
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    batch.fault = `The layers ${error.message}.`;
  }
}
