import { readTyped } from '../settings/typed-number.ts';
import { tidyLines } from '../text.ts';

export type Sent = { speciesId: number; animals: number };
export type ReportedLoss = { speciesId: number; sent: number; dead: number; missing: number };

/** What can be wrong with a report; the page says it in the customer's language. */
export type ReportFault = 'wholeNumber' | 'tooMany' | 'nothingWrong' | 'tooLong';

export type ReadReport = { losses: ReportedLoss[]; note: string; faults: Map<string, ReportFault> };

export const deadField = (speciesId: number) => `dead-${speciesId}`;
export const missingField = (speciesId: number) => `missing-${speciesId}`;
export const noteField = 'note';
export const longestNote = 2000;

function wholeOf(text: string): number | null {
  if (text.trim() === '') return 0;
  const value = readTyped(text);
  return value !== null && Number.isInteger(value) && value >= 0 ? value : null;
}

/**
 * Reads how many of each species are dead or missing, at most as many as were sent of it. `field` answers what was typed
 * in a field. Faults stand by field; the empty name is about the whole.
 *
 * @example readReport([{ speciesId: 3, animals: 14 }], (name) => ({ 'dead-3': '2' })[name] ?? '').losses
 * // [{ speciesId: 3, sent: 14, dead: 2, missing: 0 }]
 */
export function readReport(sent: readonly Sent[], field: (name: string) => string): ReadReport {
  const faults = new Map<string, ReportFault>();
  const losses: ReportedLoss[] = [];
  for (const { speciesId, animals } of sent) {
    const names = [deadField(speciesId), missingField(speciesId)] as const;
    const [dead, missing] = names.map((name) => {
      const value = wholeOf(field(name));
      if (value === null) faults.set(name, 'wholeNumber');
      else if (value > animals) faults.set(name, 'tooMany');
      return value ?? 0;
    });
    if (dead === undefined || missing === undefined) continue;
    if (dead + missing > animals && !faults.has(names[0])) faults.set(names[1], 'tooMany');
    if (dead + missing > 0) losses.push({ speciesId, sent: animals, dead, missing });
  }
  const note = tidyLines(field(noteField));
  if (note.length > longestNote) faults.set(noteField, 'tooLong');
  if (losses.length === 0 && faults.size === 0) faults.set('', 'nothingWrong');
  return { losses, note, faults };
}
