import { z } from 'zod';
import { animalGroups } from '../species/columns.ts';
import { MOST_LITRES } from './enclosure-size.ts';

const name = z.string().min(1).max(120);

/**
 * What a person says about the things that cultures of a file name: which species, enclosure and room of the records
 * they are (`is`, by name), or how they are made. Names, not numbers, so that the choices fit another installation.
 */
export const stockChoices = z.strictObject({
  species: z
    .array(z.strictObject({ name, is: name.optional(), group: z.enum(animalGroups).optional() }))
    .max(2000)
    .optional(),
  enclosures: z
    .array(
      z.strictObject({
        /** null: the cultures of which no enclosure is told. */
        name: name.nullable(),
        is: name.optional(),
        litres: z.number().gt(0).max(MOST_LITRES).optional(),
      }),
    )
    .max(2000)
    .optional(),
  /** The room of all places that name none. */
  room: z.string().min(1).max(80).optional(),
});

export type StockChoices = z.output<typeof stockChoices>;
