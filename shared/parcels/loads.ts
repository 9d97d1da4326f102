import type { Day } from '../days.ts';
import { conductanceOf } from './conductance.ts';
import { type Node, nodeOf, startingWarmth, type Warmth } from './heat-content.ts';
import type { ParcelPack } from './parcel-form.ts';
import type { BoxOption, PackOption, ParcelOptionsQuestion, Way } from './parcel-options-form.ts';

/** What was not taken, and why; null where it holds for every box, pack or day. */
export interface RefusedOption {
  box: string | null;
  pack: string | null;
  packs: number;
  dispatchOn: Day | null;
  way: Way | null;
  why: string;
}

/** A box with what is put in it, ready to run through any air. */
export interface Load {
  box: BoxOption;
  pack: PackOption | null;
  packs: number;
  cost: number;
  conductanceWPerK: number;
  node: Node;
  start: Warmth;
  inside: ParcelPack[];
  /** What the packs do to the parcel at the start of the trip. */
  effect: 'warms' | 'cools' | null;
}

type Cargo = Pick<ParcelOptionsQuestion, 'boxes' | 'packs' | 'contents' | 'startTempC'>;

const litresOf = ({ insideMm }: BoxOption) =>
  insideMm ? (insideMm[0] * insideMm[1] * insideMm[2]) / 1e6 : null;

function effectOf(pack: PackOption | null, startTempC: number): Load['effect'] {
  if (!pack) return null;
  if (pack.kind === 'heat') return 'warms';
  return pack.startTempC < startTempC ? 'cools' : pack.startTempC > startTempC ? 'warms' : null;
}

const short = (value: number) => String(Number(value.toPrecision(2)));

/** Why a box cannot be had at all. */
function boxRefusal(box: BoxOption, volumeL: number): string | null {
  if (box.left === 0) return `no ${box.name} is left`;
  const litres = litresOf(box);
  if (litres !== null && litres < volumeL)
    return `holds ${short(litres)} l, the contents need ${short(volumeL)} l`;
  return null;
}

function packRefusal(box: BoxOption, pack: PackOption, packs: number): string | null {
  if (pack.left !== null && pack.left < packs)
    return `${pack.left === 0 ? 'no' : `only ${pack.left}`} ${pack.name} left`;
  const litres = litresOf(box);
  if (pack.smallestBoxL === 0 || (litres !== null && litres >= pack.smallestBoxL)) return null;
  const size =
    litres === null ? 'the inside of this one was not measured' : `this one holds ${short(litres)} l`;
  return `${pack.name} wants a box of at least ${short(pack.smallestBoxL)} l, ${size}`;
}

/** Every box with every number of every pack that may sit in it, and those that may not. */
export function loadsOf({ boxes, packs, contents, startTempC }: Cargo): {
  loads: Load[];
  refused: RefusedOption[];
} {
  const loads: Load[] = [];
  const refused: RefusedOption[] = [];
  const refuse = (box: BoxOption, pack: PackOption | null, count: number, why: string) =>
    refused.push({ box: box.name, pack: pack?.name ?? null, packs: count, dispatchOn: null, way: null, why });
  for (const box of boxes) {
    const whyBox = boxRefusal(box, contents.volumeL);
    if (whyBox !== null) {
      refuse(box, null, 0, whyBox);
      continue;
    }
    const conductanceWPerK = conductanceOf(box);
    const add = (pack: PackOption | null, count: number) => {
      const inside: ParcelPack[] = pack ? Array.from({ length: count }, () => pack) : [];
      const node = nodeOf(contents, inside);
      const start = startingWarmth(node, contents, inside, startTempC);
      const cost = box.price + count * (pack?.price ?? 0);
      const effect = effectOf(pack, startTempC);
      loads.push({ box, pack, packs: count, cost, conductanceWPerK, node, start, inside, effect });
    };
    add(null, 0);
    for (const pack of packs)
      for (let count = 1; count <= pack.most; count += 1) {
        const why = packRefusal(box, pack, count);
        if (why === null) add(pack, count);
        else refuse(box, pack, count, why);
      }
  }
  return { loads, refused };
}
