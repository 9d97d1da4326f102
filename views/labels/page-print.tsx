import type { LaidSheet } from '../../shared/labels/sheet.ts';
import type { LabelData } from '../documents/label.ts';
import { Actions, LinkButton, PostButton } from '../layout/button.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { LabelPicture } from './part-label-picture.tsx';
import { SheetPicture } from './part-sheet-picture.tsx';
import { type SaidIn, sayModule, saySheet } from './say.ts';
import { type SmallestCode, sayLabels, saySmallest } from './say-worked-out.ts';

export type PrintLabelsPageProps = {
  furniture: Furniture;
  /** Null for plain paper. */
  sheetName: string | null;
  sheet: LaidSheet;
  said: SaidIn;
  sheets: { cell: number; what: LabelData }[][];
  sample: LabelData | null;
  count: number;
  cutLines: boolean;
  judged: {
    tooSmall: string[];
    smallestMm: number;
    smallest: SmallestCode | null;
    leftOut: string[];
    warnings: string[];
  };
  pdfHref: string;
  /** What the print is made from, for the form that says it is done. */
  fields: Record<string, string | number>;
};

/** So many sheets are drawn; the others look alike. */
const drawn = 2;

const some = (codes: readonly string[]) =>
  codes.length > 6 ? `${codes.slice(0, 6).join(', ')} and ${codes.length - 6} more` : codes.join(', ');

function Concerns({ judged, said }: Pick<PrintLabelsPageProps, 'judged' | 'said'>) {
  return (
    <>
      {judged.tooSmall.length > 0 && (
        <Notice tone="harm">
          {`Phones may not read the code of ${some(judged.tooSmall)}. ${sayModule(judged.smallestMm, said)} Take a sheet with larger labels.`}
        </Notice>
      )}
      {judged.leftOut.length > 0 && (
        <Notice tone="needs-you">{`Some labels are too small for: ${judged.leftOut.join(', ')}.`}</Notice>
      )}
      {judged.warnings.map((warning) => (
        <Notice key={warning} tone="needs-you">
          {warning}
        </Notice>
      ))}
    </>
  );
}

export function PrintLabelsPage(props: PrintLabelsPageProps) {
  const { furniture, sheet, said, sheets, sample, count, judged } = props;
  const labels = formatCount(count, 'label');
  const on = sheets.length === 1 ? 'one sheet' : `${sheets.length} sheets`;
  return (
    <Shell
      furniture={furniture}
      title={`${labels} on ${on}`}
      purpose={
        <>
          {props.sheetName ?? 'Plain paper'}: {sheet.paper},{' '}
          <Computed of="label">{saySheet(sheet, said)}</Computed>.
        </>
      }
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: '/labels', label: 'Labels' },
      ]}
    >
      <Concerns judged={judged} said={said} />
      <Actions class="label-actions">
        <LinkButton href={props.pdfHref} kind="main">
          Open the PDF
        </LinkButton>
        <PostButton
          furniture={furniture}
          action="/labels/printed"
          fields={props.fields}
          label="They came out well"
        />
      </Actions>
      <p>
        Print at 100 % (“actual size”), not fitted to the page, or the measures move. When the labels came out
        well, say so: then they are no longer offered as new, and the next print begins after them.
      </p>
      {sample && <LabelPicture label={sample} widthMm={sheet.labelWidthMm} heightMm={sheet.labelHeightMm} />}
      <p class="quiet">
        <Computed of="label">{sayModule(judged.smallestMm, said)}</Computed>
      </p>
      <WorkedOut of="label" so={[...sayLabels(sheet, said), ...saySmallest(judged.smallest, said)]} />
      <div class="sheet-pictures">
        {sheets.slice(0, drawn).map((cells, index) => (
          <SheetPicture
            key={index}
            sheet={sheet}
            cells={cells.map(({ cell, what }) => ({ cell, code: what.code }))}
            label={`Sheet ${index + 1} of ${sheets.length}: ${cells.map(({ what }) => what.code).join(', ')}`}
          />
        ))}
      </div>
      {sheets.length > drawn && (
        <p class="quiet">{`and ${formatCount(sheets.length - drawn, 'sheet')} more`}</p>
      )}
    </Shell>
  );
}
