import type { Node, Warmth } from './heat-content.ts';
import { goneIn, reaches, type Stretch, sumReaches, tempAfter, turnsAfter } from './heat-line.ts';

/** Nearer than this to a melting point the air neither melts nor freezes: the last digits of a sum. */
const SAME_C = 1e-12;
/** A limit that is missed by less than this is kept. */
export const TOUCH_C = 1e-9;

const NO_PLATEAUS: readonly { meltingC: number; latent: number }[] = [];

export interface SafeRange {
  safeLowC: number;
  safeHighC: number;
}

/**
 * The inside of a parcel on its way: one node that is moved on in closed form, from one event to the next, and what was
 * seen meanwhile. Hours, degrees Celsius; heat in kelvin hours of the box's conductance, `joulesPerKelvinHour` each.
 */
export class Inside {
  tempC: number;
  lowestC: number;
  highestC: number;
  hoursBelowSafe = 0;
  hoursAboveSafe = 0;
  /** Latent heat taken up by each plateau, kelvin hours. */
  private readonly molten: number[];
  private readonly plateaus: readonly { meltingC: number; latent: number }[];
  private readonly tau: number;
  private readonly joulesPerKelvinHour: number;
  private readonly safe: SafeRange;
  /** The melting point at which the next drift ends. */
  private nextLevel: number | null = null;
  /** The last step's hours and the share of the difference that is gone in it: most steps are equally long. */
  private lastHours = Number.NaN;
  private lastGone = 0;

  constructor(node: Node, start: Warmth, joulesPerKelvinHour: number, safe: SafeRange) {
    this.safe = safe;
    this.joulesPerKelvinHour = joulesPerKelvinHour;
    this.tau = node.heatCapacityJPerK / joulesPerKelvinHour;
    this.plateaus =
      node.plateaus.length === 0
        ? NO_PLATEAUS
        : node.plateaus.map(({ meltingC, latentJ }) => ({ meltingC, latent: latentJ / joulesPerKelvinHour }));
    this.molten = Array.from(start.moltenJ, (joules) => joules / joulesPerKelvinHour);
    this.tempC = start.tempC;
    this.lowestC = start.tempC;
    this.highestC = start.tempC;
  }

  warmth(): Warmth {
    return {
      tempC: this.tempC,
      moltenJ: Float64Array.from(this.molten, (one) => one * this.joulesPerKelvinHour),
    };
  }

  /**
   * Goes on towards a line for so many hours, through whatever melts or freezes on the way. Returns the integral of the
   * inside temperature.
   */
  advance(hours: number, towards: number, slope: number): number {
    if (this.plateaus.length === 0) return this.drift(hours, towards, slope);
    let integral = 0;
    let gone = 0;
    // The line turns the node at most once, so each plateau is met and left at most twice: more events cannot come.
    for (let events = 4 * this.plateaus.length + 4; gone < hours; events -= 1) {
      const left = hours - gone;
      const at = this.snapped(towards + slope * gone);
      const plateau = this.standsOn(at, slope);
      const span = plateau < 0 ? this.freeFor(left, at, slope) : this.holdsFor(plateau, left, at, slope);
      const taken = events <= 0 ? left : Math.min(left, span);
      if (plateau < 0) {
        integral += this.drift(taken, at, slope);
        if (this.nextLevel !== null && events > 0) this.tempC = this.nextLevel;
      } else integral += this.hold(plateau, taken, at, slope);
      gone = taken >= left ? hours : gone + taken;
    }
    return integral;
  }

  /** The plateau that the node stands on and does not leave at once; -1 where its temperature moves. */
  private standsOn(towards: number, slope: number): number {
    for (const [i, { meltingC, latent }] of this.plateaus.entries()) {
      if (this.tempC !== meltingC) continue;
      const pull = pullOf(meltingC, towards);
      const direction = pull !== 0 ? pull : slope;
      const molten = this.molten[i] ?? 0;
      if (direction > 0 ? molten < latent : direction < 0 ? molten > 0 : true) return i;
    }
    return -1;
  }

  /** How long a plateau lasts at most: until all is molten, or all is frozen. */
  private holdsFor(i: number, hours: number, towards: number, slope: number): number {
    const { meltingC, latent } = this.plateauAt(i);
    const pull = pullOf(meltingC, towards);
    const molten = this.molten[i] ?? 0;
    return Math.min(hours, sumReaches(pull, slope, latent - molten), sumReaches(pull, slope, -molten));
  }

  /** Stays at the melting point for so many hours, taking heat up or giving it away. */
  private hold(i: number, hours: number, towards: number, slope: number): number {
    const { meltingC, latent } = this.plateauAt(i);
    const molten = (this.molten[i] ?? 0) + (pullOf(meltingC, towards) + (slope * hours) / 2) * hours;
    const nearly = 1e-12 * latent;
    this.molten[i] = molten < nearly ? 0 : molten > latent - nearly ? latent : molten;
    this.see(meltingC, meltingC, hours, null);
    return meltingC * hours;
  }

  private plateauAt(i: number): { meltingC: number; latent: number } {
    return this.plateaus[i] as { meltingC: number; latent: number };
  }

  /** Air that is as good as at the melting point the node stands on is taken to be there, by all that follows. */
  private snapped(towards: number): number {
    for (const { meltingC } of this.plateaus)
      if (this.tempC === meltingC && pullOf(meltingC, towards) === 0) return meltingC;
    return towards;
  }

  /** How long the temperature moves freely: until it comes to a melting point, which is kept in `nextLevel`. */
  private freeFor(hours: number, towards: number, slope: number): number {
    const stretch: Stretch = { from: this.tempC, towards, slope, tau: this.tau };
    const turn = turnsAfter(stretch, hours);
    const first = tempAfter(stretch, turn ?? hours);
    this.nextLevel = this.firstLevel(this.tempC, first, first > this.tempC);
    if (this.nextLevel !== null) return this.reachesNext(stretch, this.nextLevel, 0, turn ?? hours);
    if (turn === null) return hours;
    const last = tempAfter(stretch, hours);
    // It may have left a melting point and turned so soon that rounding puts it back: then it is met again.
    const isRising = slope > 0;
    const back = isRising ? Math.min(first, this.tempC) : Math.max(first, this.tempC);
    this.nextLevel = this.firstLevel(back, last, isRising, true);
    return this.nextLevel === null ? hours : this.reachesNext(stretch, this.nextLevel, turn, hours);
  }

  private reachesNext(stretch: Stretch, level: number, low: number, high: number): number {
    return tempAfter(stretch, high) === level ? high : reaches(stretch, level, low, high);
  }

  /** The first melting point on the way from one temperature to another; where it starts counts only if asked for. */
  private firstLevel(from: number, to: number, isRising: boolean, withStart = false): number | null {
    let first: number | null = null;
    for (const { meltingC } of this.plateaus) {
      const ahead = isRising ? meltingC - from : from - meltingC;
      const past = isRising ? to - meltingC : meltingC - to;
      if (past < 0 || ahead < 0 || (ahead === 0 && !withStart)) continue;
      if (first === null || ahead < Math.abs(first - from)) first = meltingC;
    }
    return first;
  }

  private goneIn(hours: number): number {
    if (hours !== this.lastHours) {
      this.lastHours = hours;
      this.lastGone = goneIn(hours, this.tau);
    }
    return this.lastGone;
  }

  /** Lets the temperature move for so many hours. */
  private drift(hours: number, towards: number, slope: number): number {
    const { tempC: from, tau } = this;
    const gone = this.goneIn(hours);
    const lag = hours - tau * gone;
    const to = from + (towards - from) * gone + slope * lag;
    const { safeLowC, safeHighC } = this.safe;
    const turns = (towards - from) * (towards + slope * hours - to) < 0;
    if (turns || from < safeLowC || to < safeLowC || from > safeHighC || to > safeHighC)
      this.seeClosely({ from, towards, slope, tau }, to, hours);
    else if (from < to) {
      if (to > this.highestC) this.highestC = to;
    } else if (to < this.lowestC) this.lowestC = to;
    this.tempC = to;
    return from * hours + (towards - from) * lag + slope * ((hours * hours) / 2 - tau * lag);
  }

  private seeClosely(stretch: Stretch, to: number, hours: number): void {
    const turn = turnsAfter(stretch, hours);
    if (turn === null) this.see(stretch.from, to, hours, { stretch, begins: 0 });
    else {
      const middle = tempAfter(stretch, turn);
      this.see(stretch.from, middle, turn, { stretch, begins: 0 });
      this.see(middle, to, hours - turn, { stretch, begins: turn });
    }
  }

  /** Takes down a part of the way on which the temperature only rises, only falls or stays. */
  private see(
    from: number,
    to: number,
    hours: number,
    on: { stretch: Stretch; begins: number } | null,
  ): void {
    const [low, high] = from < to ? [from, to] : [to, from];
    if (low < this.lowestC) this.lowestC = low;
    if (high > this.highestC) this.highestC = high;
    const { safeLowC, safeHighC } = this.safe;
    const below = safeLowC - TOUCH_C;
    const above = safeHighC + TOUCH_C;
    if (low < below) {
      if (high < below || !on) this.hoursBelowSafe += hours;
      else {
        const crosses = reaches(on.stretch, below, on.begins, on.begins + hours) - on.begins;
        this.hoursBelowSafe += from < to ? crosses : hours - crosses;
      }
    }
    if (high > above) {
      if (low > above || !on) this.hoursAboveSafe += hours;
      else {
        const crosses = reaches(on.stretch, above, on.begins, on.begins + hours) - on.begins;
        this.hoursAboveSafe += from < to ? hours - crosses : crosses;
      }
    }
  }
}

function pullOf(meltingC: number, towards: number): number {
  const pull = towards - meltingC;
  return Math.abs(pull) <= SAME_C * (1 + Math.abs(meltingC)) ? 0 : pull;
}
