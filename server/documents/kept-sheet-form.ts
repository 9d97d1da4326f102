import { z } from 'zod';
import { languages } from '../../shared/settings/languages.ts';
import { careHeadings } from '../../shared/species/columns.ts';
import type { CareSheetData } from '../../views/documents/care-sheet-data.ts';

const size = z.number().positive();
const measures = z.discriminatedUnion('shape', [
  z.object({ shape: z.literal('box'), lengthMm: size, widthMm: size, heightMm: size }),
  z.object({ shape: z.literal('cylinder'), diameterMm: size, heightMm: size }),
  z.object({ shape: z.literal('frustum'), topDiameterMm: size, bottomDiameterMm: size, heightMm: size }),
]);
const litres = z.number().nonnegative();
const tempC = z.number();

/** A care sheet as an order keeps it: all that stood on it, but for whom it was. That is asked of the order. */
export const keptSheet = z.object({
  language: z.enum(languages),
  scientificName: z.string(),
  commonName: z.string(),
  enclosure: z.object({
    name: z.string(),
    measures,
    layers: z.array(z.object({ name: z.string(), depthMm: size })),
    freeHeadMm: litres,
    ventilation: z.string(),
    moistSide: z.enum(['left', 'right', 'none']),
  }),
  recipe: z.array(
    z.object({ name: z.string(), litres, materials: z.array(z.object({ material: z.string(), litres })) }),
  ),
  text: z.record(z.enum(careHeadings), z.string()),
  inEnglish: z.array(z.enum(['name', 'cautions', ...careHeadings])),
  terms: z.record(z.string(), z.string()),
  cautions: z.array(z.string()),
  limits: z.object({
    lethalLowC: tempC,
    safeLowC: tempC,
    idealLowC: tempC,
    idealHighC: tempC,
    safeHighC: tempC,
    lethalHighC: tempC,
  }),
  batch: z.object({ cultureCode: z.string(), line: z.string(), packedOn: z.string() }),
});

export type KeptSheet = z.output<typeof keptSheet>;

/** What of a sheet is kept. The limits come in the row of their species, which has much more. */
export function toKeep(sheet: CareSheetData): KeptSheet {
  return keptSheet.parse(sheet);
}
