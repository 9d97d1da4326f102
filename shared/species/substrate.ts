import { z } from 'zod';
import { volumeBetweenLitres } from '../enclosures/volume.ts';
import { CalculationError } from '../faults.ts';

const lengthMm = z.number().gt(0).max(10_000);

/** The inside of an enclosure, in millimetres. A frustum is a round tub with sloping walls. */
const enclosure = z.discriminatedUnion(
  'shape',
  [
    z.strictObject({
      shape: z.literal('frustum'),
      topDiameterMm: lengthMm,
      bottomDiameterMm: lengthMm,
      heightMm: lengthMm,
    }),
    z.strictObject({ shape: z.literal('cylinder'), diameterMm: lengthMm, heightMm: lengthMm }),
    z.strictObject({ shape: z.literal('box'), lengthMm, widthMm: lengthMm, heightMm: lengthMm }),
  ],
  {
    error: (issue) => (issue.code === 'invalid_union' ? 'must be one of frustum, cylinder, box' : undefined),
  },
);

const name = z.string().trim().min(1).max(200);

/** One material of a layer: its share by loose volume, and what becomes of a loose litre once settled. */
const part = z.strictObject({
  material: name,
  parts: z.number().gt(0).max(1_000_000),
  settling: z.number().min(0.05).max(2).default(1),
});

const layer = z.strictObject({ name, depthMm: lengthMm, parts: z.array(part).min(1).max(50) });

/** Layers from the bottom up; `spare` is the share mixed on top of what is needed (0 if left out). */
export const substrateInput = z.strictObject({
  enclosure,
  layers: z.array(layer).min(1).max(50),
  enclosures: z.int().min(1).max(100_000),
  spare: z.number().min(0).max(10).default(0),
});

export type SubstrateInput = z.output<typeof substrateInput>;

export interface MaterialLitres {
  material: string;
  litres: number;
}

export interface SubstrateMix {
  /** For one enclosure, without the spare share: the room the layer fills, and the loose litres of each material. */
  layers: { name: string; litres: number; materials: MaterialLitres[] }[];
  /** Loose litres of each material over all layers and enclosures, the spare share on top. */
  totals: MaterialLitres[];
  /** From the top of the uppermost layer to the rim. */
  freeHeadMm: number;
}

/** Writes a length in an error; pages hand in their reader's way. */
export type SayLength = (lengthMm: number) => string;
const inMillimetres: SayLength = (lengthMm) => `${Math.round(lengthMm * 10) / 10} mm`;

/**
 * What to mix for a number of enclosures of one kind, layer by layer.
 *
 * A recipe's parts are measured loose, in litres. `settling` is the share of its loose volume that a material
 * keeps once it lies in the enclosure: at 0.8 a loose litre fills 0.8 l, so more must be mixed; at 1 (the
 * default) nothing settles. A layer of volume V takes V p_i / sum(p_j settling_j) loose litres of material i.
 * That fine stuff trickles into the gaps of coarse stuff is not counted; the spare share is for that.
 *
 * Errors: layers higher than the enclosure (at `layers`).
 *
 * @example substrateMix for a 200 x 100 x 90 mm box, one layer of 50 mm, 3 parts soil and 1 part leaf litter
 * that settles to 0.5, for 12 enclosures with 0.1 spare: the layer fills 1 l and takes 0.857 l soil and
 * 0.286 l leaf litter; in all 11.31 l and 3.77 l; 40 mm stay free.
 */
export function substrateMix(input: SubstrateInput, say: SayLength = inMillimetres): SubstrateMix {
  const { heightMm } = input.enclosure;
  const freeHeadMm = freeHead(input, say);
  const totals = new Map<string, number>();
  const forAll = input.enclosures * (1 + input.spare);
  let filledMm = 0;
  const layers = input.layers.map((layer) => {
    const upTo = Math.min(heightMm, filledMm + layer.depthMm);
    const litres = volumeBetweenLitres(input.enclosure, filledMm, upTo);
    filledMm = upTo;
    const settled = layer.parts.reduce((sum, { parts, settling }) => sum + parts * settling, 0);
    const materials = layer.parts.map(({ material, parts }) => {
      const loose = (litres * parts) / settled;
      totals.set(material, (totals.get(material) ?? 0) + loose * forAll);
      return { material, litres: loose };
    });
    return { name: layer.name, litres, materials };
  });
  return { layers, totals: [...totals].map(([material, litres]) => ({ material, litres })), freeHeadMm };
}

function freeHead({ enclosure, layers }: SubstrateInput, say: SayLength): number {
  const filledMm = layers.reduce((sum, { depthMm }) => sum + depthMm, 0);
  const freeMm = enclosure.heightMm - filledMm;
  // Depths like 0.1 + 0.2 may exceed 0.3 by a rounding of the last digit.
  if (freeMm < -1e-9 * enclosure.heightMm) {
    throw new CalculationError(
      `are ${say(filledMm)} high together, but the enclosure is only ${say(enclosure.heightMm)}`,
      'layers',
    );
  }
  return Math.max(0, freeMm);
}
