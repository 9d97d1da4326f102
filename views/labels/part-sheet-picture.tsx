import { cornerOf, type LaidSheet } from '../../shared/labels/sheet.ts';

export type SheetPictureProps = {
  sheet: LaidSheet;
  /** What stands in each place, by its number from 0; the others stay empty. */
  cells: readonly { cell: number; code: string }[];
  /** Read out in place of the picture. */
  label: string;
};

const round = (value: number) => Math.round(value * 10) / 10;

function Cell({ sheet, cell, code }: { sheet: LaidSheet; cell: number; code: string | undefined }) {
  const { xMm, yMm } = cornerOf(sheet, cell);
  const { labelWidthMm: width, labelHeightMm: height } = sheet;
  const beside = width >= 1.25 * height;
  const side = Math.min(height - 2, beside ? width * 0.4 : width * 0.5);
  // Letters of a fixed width are about six tenths of their height wide.
  const room = beside ? width - side - 4 : width - 2;
  const size = code ? Math.min(7, height * 0.3, room / (0.62 * code.length)) : 0;
  return (
    <g>
      <rect
        class={code ? 'sheet-cell' : 'sheet-cell sheet-cell-empty'}
        x={round(xMm)}
        y={round(yMm)}
        width={round(width)}
        height={round(height)}
      />
      {code && (
        <>
          <rect
            class="sheet-code"
            x={round(beside ? xMm + 1.5 : xMm + (width - side) / 2)}
            y={round(beside ? yMm + (height - side) / 2 : yMm + 1)}
            width={round(side)}
            height={round(side)}
          />
          <text
            class="sheet-text"
            x={round(beside ? xMm + side + 3 : xMm + width / 2)}
            y={round(beside ? yMm + height / 2 + size / 3 : yMm + side + 2 + size)}
            font-size={Math.max(1, round(size))}
            text-anchor={beside ? 'start' : 'middle'}
          >
            {code}
          </text>
        </>
      )}
    </g>
  );
}

/** A whole sheet to scale: which places are used, and that they lie on the paper. */
export function SheetPicture({ sheet, cells, label }: SheetPictureProps) {
  const codes = new Map(cells.map(({ cell, code }) => [cell, code]));
  return (
    <svg
      class="sheet-picture"
      viewBox={`-1 -1 ${round(sheet.widthMm + 2)} ${round(sheet.heightMm + 2)}`}
      role="img"
      aria-label={label}
    >
      <rect class="label-paper" x="0" y="0" width={sheet.widthMm} height={sheet.heightMm} />
      {Array.from({ length: sheet.perSheet }, (_, cell) => (
        <Cell key={cell} sheet={sheet} cell={cell} code={codes.get(cell)} />
      ))}
    </svg>
  );
}
