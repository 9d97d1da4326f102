import type { Placed } from './drawing.ts';
import type { Frame } from './paper.ts';

/** A piece of a document that has been measured and waits for its place on a page. */
export interface Slab {
  heightPt: number;
  /** Space above, dropped at the top of a page. */
  gapPt: number;
  /** Must not be the last thing on a page. */
  keepWithNext: boolean;
  draw(xPt: number, yPt: number): Placed[];
  /** For a slab that may be higher than a page: what fits in the room, and the rest. */
  split?(roomPt: number): [Slab, Slab] | null;
}

/** Raised when something that cannot be divided is higher than a page; a fault of the document, not of its data. */
export class SlabTooHigh extends Error {
  constructor(heightPt: number, roomPt: number) {
    super(`a part of ${heightPt.toFixed(0)} pt cannot be divided and a page holds ${roomPt.toFixed(0)} pt`);
    this.name = 'SlabTooHigh';
  }
}

/** The height of slabs that stand directly under each other, the first one's gap left out. */
export function heightOf(slabs: Slab[]): number {
  return slabs.reduce((total, slab, index) => total + slab.heightPt + (index > 0 ? slab.gapPt : 0), 0);
}

/** The marks of slabs under each other, the first one's gap left out. */
export function drawStack(slabs: Slab[], xPt: number, yPt: number): Placed[] {
  let y = yPt;
  return slabs.flatMap((slab, index) => {
    if (index > 0) y += slab.gapPt;
    const drawn = slab.draw(xPt, y);
    y += slab.heightPt;
    return drawn;
  });
}

/** Sets slabs on as many pages as they need. The frame of each page is asked for when the page begins. */
export function flow(slabs: Slab[], frameOf: (page: number) => Frame): Placed[][] {
  const page = new Pages(frameOf);
  const queue = chains(slabs);
  for (let chain = queue.shift(); chain; chain = queue.shift()) {
    const [first, ...rest] = chain;
    if (!first) continue;
    if (heightOf(chain) <= page.room(first)) page.placeAll(chain);
    else if (heightOf(chain) <= page.freshRoom()) {
      page.turn();
      queue.unshift(chain);
    } else if (rest.length > 0) {
      // too much to be kept together: begin where there is some room for what follows
      if (page.room(first) < page.freshRoom() / 2) page.turn();
      queue.unshift([first], rest);
    } else queue.unshift(...cut(first, page));
  }
  return page.pages;
}

/** Cuts a slab that is higher than a page: what fits is placed now, the rest is handed back. */
function cut(slab: Slab, page: Pages): Slab[][] {
  const parts = slab.split?.(page.room(slab));
  if (parts) {
    page.place(parts[0]);
    page.turn();
    return [[parts[1]]];
  }
  if (page.empty) throw new SlabTooHigh(slab.heightPt, page.room(slab));
  page.turn();
  return [[slab]];
}

class Pages {
  readonly pages: Placed[][] = [[]];
  empty = true;
  private frame: Frame;
  private y: number;

  constructor(private readonly frameOf: (page: number) => Frame) {
    this.frame = frameOf(0);
    this.y = this.frame.yPt;
  }

  /** What is left on this page for a slab and its gap, with a grain of tolerance for sums of fractions. */
  room(slab: Slab): number {
    return this.frame.bottomPt - this.y - (this.empty ? 0 : slab.gapPt) + 0.01;
  }

  freshRoom(): number {
    const next = this.frameOf(this.pages.length);
    return next.bottomPt - next.yPt + 0.01;
  }

  place(slab: Slab): void {
    if (!this.empty) this.y += slab.gapPt;
    this.pages.at(-1)?.push(...slab.draw(this.frame.xPt, this.y));
    this.y += slab.heightPt;
    this.empty = false;
  }

  placeAll(slabs: Slab[]): void {
    for (const slab of slabs) this.place(slab);
  }

  turn(): void {
    this.frame = this.frameOf(this.pages.length);
    this.pages.push([]);
    this.y = this.frame.yPt;
    this.empty = true;
  }
}

/** Groups of slabs that want to stand on one page. */
function chains(slabs: Slab[]): Slab[][] {
  const found: Slab[][] = [];
  let open = false;
  for (const slab of slabs) {
    if (open) found.at(-1)?.push(slab);
    else found.push([slab]);
    open = slab.keepWithNext;
  }
  return found;
}
