import { z } from 'zod';
import { faultsOf, inWords } from '../faults.ts';
import { RecordsError } from './limits.ts';
import { culturesMapping, diaryMapping, type Mapping } from './mapping.ts';
import { stockChoices } from './stock-choices.ts';

/** Everything a person said about their files, as it is saved and used again: by the page and by the command. */
const savedMapping = z.strictObject({
  version: z.literal(1),
  cultures: culturesMapping.optional(),
  diary: diaryMapping.optional(),
  stock: stockChoices.optional(),
});
export type SavedMapping = z.output<typeof savedMapping>;

/**
 * A saved mapping from its text. Throws a RecordsError that names every fault by its path.
 *
 * @example readSavedMapping('{"version":1,"diary":{"version":1,"kind":"diary","dateOrder":"dmy"}}').diary?.dateOrder
 * // 'dmy'
 */
export function readSavedMapping(text: string): SavedMapping {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    throw new RecordsError('mapping-wrong', 'The mapping is not JSON. Choose the file that was saved here.');
  }
  const parsed = savedMapping.safeParse(json, { error: inWords });
  if (parsed.success) return parsed.data;
  const faults = faultsOf(parsed.error).map((fault) => `${fault.path}: ${fault.message}`);
  throw new RecordsError('mapping-wrong', `This mapping cannot be used. ${faults.slice(0, 20).join('; ')}`);
}

/** Mends belong to one file: what is saved for the next one goes without them. */
export function writeSavedMapping(saved: Omit<SavedMapping, 'version'>): string {
  const plain = <M extends Mapping>(mapping: M | undefined) => mapping && { ...mapping, mends: [] };
  const { cultures, diary, stock } = saved;
  return `${JSON.stringify({ version: 1, cultures: plain(cultures), diary: plain(diary), stock }, null, 2)}\n`;
}
