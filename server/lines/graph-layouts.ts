import type { Figure } from '../../shared/lines/page-figure.ts';
import { type FigurePlan, planFigure } from '../../views/lines/graph-plan.ts';

/** Laying out a figure takes tens of milliseconds and the same figures are asked for again and again. */
const most = 200;
const laidOut = new Map<string, FigurePlan>();

/** The layout of a figure, remembered by all that it is made from: its nodes and links. */
export function layoutOf(figure: Figure): FigurePlan {
  const key = JSON.stringify(figure);
  const before = laidOut.get(key);
  const plan = before ?? planFigure(figure);
  // The longest unused stands first and goes first.
  laidOut.delete(key);
  laidOut.set(key, plan);
  const [oldest] = laidOut.keys();
  if (laidOut.size > most && oldest !== undefined) laidOut.delete(oldest);
  return plan;
}
