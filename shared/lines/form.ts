import { z } from 'zod';
import { typedNumber } from '../settings/typed-number.ts';
import { neededLine, optionalLine, optionalLines } from '../text.ts';

export const lineForm = z.object({
  speciesId: typedNumber({ whole: true, min: 1 }),
  name: neededLine(80, 'Give the line a name.'),
  locality: optionalLine(200),
  note: optionalLines(2000),
});
export type LineForm = z.output<typeof lineForm>;

export const lineFieldWords: Record<string, string> = {
  speciesId: 'Species',
  name: 'Name',
  locality: 'Locality',
  note: 'Note',
};
