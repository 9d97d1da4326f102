import { paragraph, row, stack } from './blocks.ts';
import type { Said } from './care-sheet-data.ts';
import { sayPiece } from './care-style.ts';
import type { Warnings } from './characters.ts';
import { asPlaced, dotMark, type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import type { TextStyle } from './lines.ts';

/** A list with a dot before each item. */
export function bulletList(
  items: readonly (string | Said)[],
  widthPt: number,
  style: TextStyle,
  parent: Element,
  warnings: Warnings,
  gapPt = 3,
): Slab[] {
  if (items.length === 0) return [];
  const list = element('L', parent);
  const indent = style.sizePt * 0.85;
  return items.map((item) => {
    const entry = element('LI', list);
    const label = element('Lbl', entry);
    const body = element('LBody', entry);
    const lines = paragraph([sayPiece(said(item), style)], widthPt - indent, body, warnings);
    return row(
      [
        { xPt: 0, content: dot(style, label) },
        { xPt: indent, content: stack(lines) },
      ],
      { gapPt },
    );
  });
}

const said = (item: string | Said): Said => (typeof item === 'string' ? { text: item } : item);

function dot(style: TextStyle, label: Element): Slab {
  const heightPt = style.sizePt * (style.leading ?? 1.28);
  const radius = style.sizePt * 0.13;
  return {
    heightPt,
    gapPt: 0,
    keepWithNext: false,
    draw: (xPt, yPt) => asPlaced([dotMark(xPt + radius + 1, yPt + heightPt / 2, radius, { fill: 1 })], label),
  };
}
