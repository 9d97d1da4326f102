import type { LaidSheet } from '../../shared/labels/sheet.ts';
import type { LabelData } from '../documents/label.ts';
import { Mark } from '../layout/mark.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { LabelPicture } from './part-label-picture.tsx';
import { SheetPicture } from './part-sheet-picture.tsx';
import { type SaidIn, sayModule, saySheet } from './say.ts';
import { type SmallestCode, sayLabels, saySmallest } from './say-worked-out.ts';

export type SheetPreviewData = {
  sheet: LaidSheet;
  label: LabelData;
  cutLines: boolean;
  said: SaidIn;
  judged: { smallestMm: number; smallest: SmallestCode | null; leftOut: string[] };
};

export type SheetPreviewProps = {
  preview: SheetPreviewData | null;
  /** What is wrong with what is typed, by field. */
  errors: Record<string, string>;
  words: Record<string, string>;
};

/** The sheet and one of its labels as typed so far, and what is wrong with them. */
export function SheetPreview({ preview, errors, words }: SheetPreviewProps) {
  const faults = Object.entries(errors);
  return (
    <div id="sheet-preview" class="sheet-preview" aria-live="polite">
      <h2>How it will look</h2>
      {faults.map(([name, fault]) => (
        <p key={name} class="field-error">
          <Mark kind="harm" />{' '}
          <span>
            {words[name] ? `${words[name]}: ` : ''}
            {fault}
          </span>
        </p>
      ))}
      {preview ? (
        <>
          <LabelPicture
            label={preview.label}
            widthMm={preview.sheet.labelWidthMm}
            heightMm={preview.sheet.labelHeightMm}
          />
          <p class="quiet">
            <Computed of="label">{sayModule(preview.judged.smallestMm, preview.said)}</Computed>
            {preview.judged.leftOut.length > 0 &&
              ` No room on so small a label for: ${preview.judged.leftOut.join(', ')}.`}
          </p>
          <SheetPicture
            sheet={preview.sheet}
            cells={Array.from({ length: preview.sheet.perSheet }, (_, cell) => ({
              cell,
              code: preview.label.code,
            }))}
            label={`A sheet of ${preview.sheet.paper} with ${saySheet(preview.sheet, preview.said)}`}
          />
          <p class="quiet">
            {preview.sheet.paper}, <Computed of="label">{saySheet(preview.sheet, preview.said)}</Computed>.
          </p>
          <WorkedOut
            of="label"
            so={[
              ...sayLabels(preview.sheet, preview.said),
              ...saySmallest(preview.judged.smallest, preview.said),
            ]}
          />
        </>
      ) : (
        <p class="quiet">The picture stands here once the measures go together.</p>
      )}
    </div>
  );
}
