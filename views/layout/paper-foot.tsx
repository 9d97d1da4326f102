import type { ComponentChildren } from 'preact';
import { formatDay } from './format.ts';
import type { Furniture } from './furniture.ts';

/** Below a printed sheet: of which day it is, and how its numbers came about, for whoever holds it without the page. */
export function PaperFoot({ furniture, children }: { furniture: Furniture; children: ComponentChildren }) {
  const { today, locale } = furniture;
  return (
    <p class="on-paper paper-foot">
      {today && `As of ${formatDay(today, locale)}. `}
      {children}
    </p>
  );
}
