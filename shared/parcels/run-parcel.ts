import type { Node, Warmth } from './heat-content.ts';
import type { Given } from './heat-given.ts';
import { Inside, type SafeRange, TOUCH_C } from './inside.ts';
import type { AmbientPoint } from './parcel-form.ts';

/** The air outside over a trip: hours that never fall, straight between them. */
export interface Air {
  hours: Float64Array;
  tempC: Float64Array;
}

export const airOfPoints = (points: readonly AmbientPoint[]): Air => ({
  hours: Float64Array.from(points, ({ hour }) => hour),
  tempC: Float64Array.from(points, ({ tempC }) => tempC),
});

export const lastHourOf = ({ hours }: Air): number => hours[hours.length - 1] ?? 0;

export interface RunQuestion {
  air: Air;
  conductanceWPerK: number;
  node: Node;
  start: Warmth;
  /** From `heatGiven`, over the whole of the air. */
  heat: readonly Given[];
  safe: SafeRange;
  /** Hours at which the inside is wanted, rising; none where only the figures matter. */
  at?: Float64Array;
  /** The run ends as soon as the inside has left the safe range. */
  stopsWhenUnsafe?: boolean;
}

export interface Run {
  lowestC: number;
  highestC: number;
  hoursBelowSafe: number;
  hoursAboveSafe: number;
  /** The inside at the hours that were asked for. */
  inside: Float64Array;
  end(): Warmth;
  /** What came in through the walls (negative: went out) and what the heat packs gave, joules. */
  throughWallsJ: number;
  givenJ: number;
  /** The hour the run ended. */
  endHour: number;
}

const SECONDS_PER_HOUR = 3_600;

const NOTHING_ASKED = new Float64Array(0);

const isUnsafe = (inside: Inside, { safeLowC, safeHighC }: SafeRange): boolean =>
  inside.lowestC < safeLowC - TOUCH_C || inside.highestC > safeHighC + TOUCH_C;

/** Writes the inside down for every hour that was asked for and is reached; returns how many are answered by now. */
function answerUntil(
  hour: number,
  at: Float64Array,
  asked: Float64Array,
  from: number,
  tempC: number,
): number {
  let answered = from;
  for (; answered < at.length && (at[answered] ?? 0) <= hour; answered += 1) asked[answered] = tempC;
  return answered;
}

/**
 * Takes a parcel through a trip, in closed form from one corner to the next: of the outside curve, of what the heat packs
 * give, and of the hours that are asked for. See `parcel` for the model; this is the part of it that many options share.
 */
export function runParcel(question: RunQuestion): Run {
  const { air, conductanceWPerK, heat, at, safe } = question;
  const inside = new Inside(question.node, question.start, conductanceWPerK * SECONDS_PER_HOUR, safe);
  const { hours, tempC } = air;
  const endHour = lastHourOf(air);
  const asked = at ? new Float64Array(at.length) : NOTHING_ASKED;
  let [hour, corner, pack, wallsKelvinHours, givenJ] = [0, 0, 0, 0, 0];
  let answered = at ? answerUntil(0, at, asked, 0, inside.tempC) : 0;
  while (hour < endHour && !(question.stopsWhenUnsafe && isUnsafe(inside, safe))) {
    while ((hours[corner + 1] ?? Number.POSITIVE_INFINITY) <= hour) corner += 1;
    while (pack < heat.length - 1 && (heat[pack]?.to ?? endHour) <= hour) pack += 1;
    const [left, right] = [hours[corner] ?? 0, hours[corner + 1] ?? endHour];
    const given = heat[pack];
    let until = right;
    if (given && given.to > hour && given.to < until) until = given.to;
    if (at && answered < at.length) until = Math.min(until, at[answered] ?? endHour);
    const outC = tempC[corner] ?? 0;
    const slope = ((tempC[corner + 1] ?? outC) - outC) / (right - left);
    const outNow = outC + slope * (hour - left);
    const watts = given ? given.watts + given.wattsPerHour * (hour - given.from) : 0;
    const wattsSlope = given?.wattsPerHour ?? 0;
    const span = until - hour;
    const area = inside.advance(
      span,
      outNow + watts / conductanceWPerK,
      slope + wattsSlope / conductanceWPerK,
    );
    wallsKelvinHours += (outNow + (slope * span) / 2) * span - area;
    givenJ += (watts + (wattsSlope * span) / 2) * span * SECONDS_PER_HOUR;
    hour = until;
    if (at) answered = answerUntil(hour, at, asked, answered, inside.tempC);
  }
  return {
    lowestC: inside.lowestC,
    highestC: inside.highestC,
    hoursBelowSafe: inside.hoursBelowSafe,
    hoursAboveSafe: inside.hoursAboveSafe,
    inside: asked,
    end: () => inside.warmth(),
    throughWallsJ: wallsKelvinHours * conductanceWPerK * SECONDS_PER_HOUR,
    givenJ,
    endHour: hour,
  };
}
