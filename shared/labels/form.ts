import { z } from 'zod';
import { ticked, typedNumber } from '../settings/typed-number.ts';
import { neededLine } from '../text.ts';
import type { SheetMeasures } from './sheet.ts';

/** The most labels of one print. */
export const mostLabels = 500;

const margin = { min: 0, max: 200 };
const side = { min: 8, max: 300 };

/** The fields of a sheet of labels in the order they are asked for; lengths are typed in millimetres. */
export const labelSheetForm = z.object({
  name: neededLine(80, 'Give it a name, such as what stands on its packet.'),
  columns: typedNumber({ min: 1, max: 20, whole: true }),
  rows: typedNumber({ min: 1, max: 50, whole: true }),
  marginTop: typedNumber(margin),
  marginLeft: typedNumber(margin),
  marginRight: typedNumber(margin).optional(),
  marginBottom: typedNumber(margin).optional(),
  gapAcross: typedNumber(margin),
  gapDown: typedNumber(margin),
  labelWidth: typedNumber(side).optional(),
  labelHeight: typedNumber(side).optional(),
  cutLines: ticked,
});
export type LabelSheetForm = z.output<typeof labelSheetForm>;

export const labelSheetWords: Record<string, string> = {
  name: 'Name',
  columns: 'Labels across',
  rows: 'Labels down',
  marginTop: 'Margin above',
  marginLeft: 'Margin on the left',
  marginRight: 'Margin on the right',
  marginBottom: 'Margin below',
  gapAcross: 'Gap between columns',
  gapDown: 'Gap between rows',
  labelWidth: 'Width of a label',
  labelHeight: 'Height of a label',
  cutLines: 'Cutting lines',
};

export type StoredSheet = SheetMeasures & { name: string; cutLines: boolean };

export function sheetFromForm(form: LabelSheetForm): StoredSheet {
  return {
    name: form.name,
    columns: form.columns,
    rows: form.rows,
    marginTopMm: form.marginTop,
    marginLeftMm: form.marginLeft,
    marginRightMm: form.marginRight ?? null,
    marginBottomMm: form.marginBottom ?? null,
    gapAcrossMm: form.gapAcross,
    gapDownMm: form.gapDown,
    labelWidthMm: form.labelWidth ?? null,
    labelHeightMm: form.labelHeight ?? null,
    cutLines: form.cutLines,
  };
}

const text = (value: number | null) => (value === null ? '' : String(value));

export function sheetFormValues(stored: StoredSheet): Record<string, string> {
  return {
    name: stored.name,
    columns: text(stored.columns),
    rows: text(stored.rows),
    marginTop: text(stored.marginTopMm),
    marginLeft: text(stored.marginLeftMm),
    marginRight: text(stored.marginRightMm),
    marginBottom: text(stored.marginBottomMm),
    gapAcross: text(stored.gapAcrossMm),
    gapDown: text(stored.gapDownMm),
    labelWidth: text(stored.labelWidthMm),
    labelHeight: text(stored.labelHeightMm),
    ...(stored.cutLines && { cutLines: 'yes' }),
  };
}

/** Which cultures the page offers; anything unknown falls back, so that old links work. */
export const labelFilter = z.object({
  which: z.enum(['new', 'all']).catch('new'),
  species: z.coerce.number().int().positive().optional().catch(undefined),
  place: z.coerce.number().int().positive().optional().catch(undefined),
  /** Cultures by their ids, in place of the other filters. */
  only: z
    .string()
    .regex(/^\d{1,9}(,\d{1,9})*$/)
    .transform((list) => list.split(',').map(Number))
    .optional()
    .catch(undefined),
});
export type LabelFilter = z.output<typeof labelFilter>;

/** What is asked of one print. */
export const printForm = z.object({
  sheet: z.coerce.number().int().positive().optional().catch(undefined),
  first: typedNumber({ min: 1, max: 1000, whole: true }),
  cultures: z.preprocess(
    (value) => (typeof value === 'string' ? value.split(',') : value),
    z
      .array(z.coerce.number().int().positive({ error: 'Tick the cultures that want a label.' }), {
        error: 'Tick the cultures that want a label.',
      })
      .max(mostLabels, `At most ${mostLabels} labels at once: print these in parts.`)
      .transform((ids) => [...new Set(ids)]),
  ),
});
