import { z } from 'zod';
import { ticked, typedNumber } from '../settings/typed-number.ts';
import { fieldUnitsOf, shownInField, storedFromField } from '../settings/typed-units.ts';
import type { UnitSystem } from '../settings/units.ts';
import { neededLine } from '../text.ts';
import type { SheetMeasures } from './sheet.ts';

/** The most labels of one print. */
export const mostLabels = 500;

/** The shortest and longest that a measure may be, in the unit it is typed in. */
const limits = {
  metric: { margin: { min: 0, max: 200 }, side: { min: 8, max: 300 } },
  us: { margin: { min: 0, max: 8 }, side: { min: 0.3, max: 12 } },
};

/** The fields of a sheet of labels in the order they are asked for; lengths are typed in millimetres or inches. */
export function labelSheetForm(units: UnitSystem) {
  const { margin, side } = limits[units];
  return z.object({
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
}
export type LabelSheetForm = z.output<ReturnType<typeof labelSheetForm>>;

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

/** The sheet that a form describes; a measure that still says what it showed before keeps its value. */
export function sheetFromForm(
  form: LabelSheetForm,
  units: UnitSystem,
  before: StoredSheet | null,
): StoredSheet {
  const unit = fieldUnitsOf(units).length;
  const stored = (typed: number, was: number | null | undefined) => storedFromField(typed, unit, was ?? null);
  const perhaps = (typed: number | undefined, was: number | null | undefined) =>
    typed === undefined ? null : stored(typed, was);
  return {
    name: form.name,
    columns: form.columns,
    rows: form.rows,
    marginTopMm: stored(form.marginTop, before?.marginTopMm),
    marginLeftMm: stored(form.marginLeft, before?.marginLeftMm),
    marginRightMm: perhaps(form.marginRight, before?.marginRightMm),
    marginBottomMm: perhaps(form.marginBottom, before?.marginBottomMm),
    gapAcrossMm: stored(form.gapAcross, before?.gapAcrossMm),
    gapDownMm: stored(form.gapDown, before?.gapDownMm),
    labelWidthMm: perhaps(form.labelWidth, before?.labelWidthMm),
    labelHeightMm: perhaps(form.labelHeight, before?.labelHeightMm),
    cutLines: form.cutLines,
  };
}

export function sheetFormValues(stored: StoredSheet, units: UnitSystem): Record<string, string> {
  const unit = fieldUnitsOf(units).length;
  const shown = (lengthMm: number | null) => (lengthMm === null ? '' : shownInField(lengthMm, unit));
  return {
    name: stored.name,
    columns: String(stored.columns),
    rows: String(stored.rows),
    marginTop: shown(stored.marginTopMm),
    marginLeft: shown(stored.marginLeftMm),
    marginRight: shown(stored.marginRightMm),
    marginBottom: shown(stored.marginBottomMm),
    gapAcross: shown(stored.gapAcrossMm),
    gapDown: shown(stored.gapDownMm),
    labelWidth: shown(stored.labelWidthMm),
    labelHeight: shown(stored.labelHeightMm),
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
