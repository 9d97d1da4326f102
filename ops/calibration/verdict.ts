import { type Fall, QUANTITIES, type Quantity } from './ranks.ts';

/** How often the 90 % intervals held, and how even the ranks are. */
export interface Line {
  readonly quantity: Quantity;
  readonly histories: number;
  readonly heldShare: number;
  /** Pearson's chi-square of the ten tenths, nine degrees of freedom. */
  readonly chiSquare: number;
  readonly tenths: readonly number[];
  readonly good: boolean;
}

export interface Bounds {
  readonly least: number;
  readonly most: number;
  readonly chiSquare: number;
}

export function linesOf(all: readonly Record<Quantity, Fall>[], bounds: Bounds): Line[] {
  return QUANTITIES.map((quantity) => {
    const tenths = new Array<number>(10).fill(0);
    let held = 0;
    for (const one of all) {
      tenths[one[quantity].tenth]! += 1;
      if (one[quantity].held) held += 1;
    }
    const even = all.length / 10;
    const chiSquare = tenths.reduce((sum, n) => sum + (n - even) ** 2 / even, 0);
    const heldShare = held / all.length;
    const good = heldShare >= bounds.least && heldShare <= bounds.most && chiSquare <= bounds.chiSquare;
    return { quantity, histories: all.length, heldShare, chiSquare, tenths, good };
  });
}
