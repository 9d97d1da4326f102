import { type ChoiceCurve, thinned } from './choice.ts';
import type { ScenarioCurve } from './option-curves.ts';

/** A curve as it is kept and drawn: the air at the hours of the inside. */
export function keptCurve({ scenario, inside, outside }: ScenarioCurve, most = 60): ChoiceCurve {
  let at = 0;
  const points = inside.map(({ hour, tempC }) => {
    while (at < outside.length - 2 && (outside[at + 1]?.hour ?? hour) < hour) at += 1;
    const [left, right] = [outside[at], outside[at + 1]];
    const span = left && right ? right.hour - left.hour : 0;
    const share = left && span > 0 ? Math.min(1, Math.max(0, (hour - left.hour) / span)) : 0;
    const outsideC = left ? left.tempC + share * ((right?.tempC ?? left.tempC) - left.tempC) : tempC;
    return { hour, insideC: tempC, outsideC };
  });
  const tenth = (value: number) => Math.round(value * 100) / 100;
  return {
    scenario,
    points: thinned(points, most).map(({ hour, insideC, outsideC }) => ({
      hour: tenth(hour),
      insideC: tenth(insideC),
      outsideC: tenth(outsideC),
    })),
  };
}
