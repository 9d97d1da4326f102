import { paragraph, row, stack } from './blocks.ts';
import type { Warnings } from './characters.ts';
import { asPlaced, dotMark, type Element, element } from './drawing.ts';
import type { Slab } from './flow.ts';
import type { TextStyle } from './lines.ts';

/** A list with a dot before each item. */
export function bulletList(
  items: string[],
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
    const lines = paragraph([{ text: item, style }], widthPt - indent, body, warnings);
    return row(
      [
        { xPt: 0, content: dot(style, label) },
        { xPt: indent, content: stack(lines) },
      ],
      { gapPt },
    );
  });
}

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
