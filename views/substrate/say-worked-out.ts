import { shownNumber } from '../../shared/settings/typed-units.ts';
import { formatLength, formatVolume, type UnitSystem } from '../../shared/settings/units.ts';
import { formatPercent } from '../layout/format.ts';
import type { BatchData } from './part-batch.tsx';

type Said = { spare: number; units: UnitSystem; locale: string | undefined };

/** What is mixed for the enclosures of one kind, step by step: a line for each material of each layer. */
export function sayBatch(batch: BatchData, { spare, units, locale }: Said): string[] {
  const { mix, layers, enclosure, enclosures, forAll } = batch;
  if (!mix) return [];
  const volume = (litres: number) => formatVolume(litres, units, locale);
  const more = formatPercent(spare, locale, 1);
  return layers.flatMap((layer, i) => {
    const mixed = mix.layers[i];
    if (!mixed) return [];
    const settled = layer.parts
      .map(({ parts, settling }) => `${shownNumber(parts, 2)} × ${shownNumber(settling, 2)}`)
      .join(' + ');
    return layer.parts.map(({ material, parts }, at) => {
      const one = mixed.materials[at]?.litres ?? 0;
      return `${enclosure.name}, ${layer.name}, ${formatLength(layer.depthMm, units, locale)}: ${material} ${volume(mixed.litres)} × ${shownNumber(parts, 2)} ÷ (${settled}) = ${volume(one)}; × ${enclosures} and ${more} on top = ${volume(one * forAll)}.`;
    });
  });
}
