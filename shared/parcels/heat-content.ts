import type { MeltingPack, ParcelContents, ParcelPack } from './parcel-form.ts';

/** What melts at one temperature: how many joules it takes up from frozen to molten. */
export interface Plateau {
  meltingC: number;
  latentJ: number;
}

/** The one node of a parcel: what it takes to warm it, and what in it melts, coldest first. */
export interface Node {
  heatCapacityJPerK: number;
  plateaus: readonly Plateau[];
}

/** How warm a node is: its temperature and, for each plateau, the joules of latent heat taken up. */
export interface Warmth {
  tempC: number;
  moltenJ: Float64Array;
}

const isMelting = (pack: ParcelPack): pack is MeltingPack => pack.kind === 'melting';

/** Contents and melting packs as one node; packs that melt at one temperature are one plateau. */
export function nodeOf(contents: ParcelContents, packs: readonly ParcelPack[]): Node {
  const byTemp = new Map<number, number>();
  let heatCapacityJPerK = contents.massKg * contents.heatCapacityJPerKgK;
  for (const pack of packs.filter(isMelting)) {
    heatCapacityJPerK += pack.massKg * pack.heatCapacityJPerKgK;
    if (pack.latentJPerKg > 0)
      byTemp.set(pack.meltingC, (byTemp.get(pack.meltingC) ?? 0) + pack.massKg * pack.latentJPerKg);
  }
  const plateaus = [...byTemp]
    .map(([meltingC, latentJ]) => ({ meltingC, latentJ }))
    .sort((a, b) => a.meltingC - b.meltingC);
  return { heatCapacityJPerK, plateaus };
}

/**
 * How warm contents and packs are once they have come to one temperature: each brings its sensible heat, and its latent
 * heat where it is molten. A pack that is just at its melting point is frozen.
 *
 * @example // 1 kg of water at 20 degrees and 0.1 kg of ice at 0: 10.9 degrees
 */
export function startingWarmth(
  node: Node,
  contents: ParcelContents,
  packs: readonly ParcelPack[],
  startTempC: number,
): Warmth {
  let joules = contents.massKg * contents.heatCapacityJPerKgK * startTempC;
  for (const pack of packs.filter(isMelting)) {
    const molten = pack.startTempC > pack.meltingC ? pack.latentJPerKg : 0;
    joules += pack.massKg * (pack.heatCapacityJPerKgK * pack.startTempC + molten);
  }
  return warmthAt(node, joules);
}

/** The temperature and the molten share that go with so many joules. */
export function warmthAt({ heatCapacityJPerK, plateaus }: Node, joules: number): Warmth {
  const moltenJ = new Float64Array(plateaus.length);
  let left = joules;
  for (const [i, { meltingC, latentJ }] of plateaus.entries()) {
    const overMelting = left - heatCapacityJPerK * meltingC;
    if (overMelting <= 0) break;
    moltenJ[i] = Math.min(latentJ, overMelting);
    left -= moltenJ[i] ?? 0;
    if (overMelting < latentJ) return { tempC: meltingC, moltenJ };
  }
  return { tempC: left / heatCapacityJPerK, moltenJ };
}
