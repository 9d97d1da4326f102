import { conductanceOf } from '../../shared/parcels/conductance.ts';
import type { ParcelQuestion } from '../../shared/parcels/parcel-form.ts';

/** The air between the points of a curve. */
function airAt(ambient: ParcelQuestion['ambient'], hour: number): number {
  const i = Math.max(
    1,
    ambient.findIndex((point) => point.hour > hour),
  );
  const right = ambient.at(ambient.at(-1)!.hour <= hour ? -1 : i)!;
  const left = ambient.at(ambient.at(-1)!.hour <= hour ? -2 : i - 1)!;
  return left.tempC + ((right.tempC - left.tempC) * (hour - left.hour)) / (right.hour - left.hour);
}

function wattsAt(packs: ParcelQuestion['packs'], hour: number): number {
  let watts = 0;
  for (const pack of packs)
    if (pack.kind === 'heat' && hour < pack.hours)
      watts += pack.watts * Math.min(1, pack.warmUpHours === 0 ? 1 : hour / pack.warmUpHours);
  return watts;
}

/**
 * The same trip by brute force: the joules of the parcel, added up in steps so small that nothing closed is needed. Shares
 * no code with the calculation but the walls; the temperature is looked up from the joules by halving.
 */
export function simulate(question: ParcelQuestion, stepHours: number) {
  const { contents, packs, ambient } = question;
  const conductance = conductanceOf(question.box);
  const melting = packs.flatMap((pack) => (pack.kind === 'melting' ? [pack] : []));
  const joulesAt = (tempC: number, moltenAtMelting: boolean) =>
    contents.massKg * contents.heatCapacityJPerKgK * tempC +
    melting.reduce((sum, pack) => {
      const molten = tempC > pack.meltingC || (moltenAtMelting && tempC === pack.meltingC);
      return sum + pack.massKg * (pack.heatCapacityJPerKgK * tempC + (molten ? pack.latentJPerKg : 0));
    }, 0);
  const tempOf = (joules: number) => {
    let [low, high] = [-200, 200];
    for (let i = 0; i < 50; i += 1) {
      const half = (low + high) / 2;
      if (joulesAt(half, true) < joules) low = half;
      else high = half;
    }
    return high;
  };
  let joules = contents.massKg * contents.heatCapacityJPerKgK * question.startTempC;
  for (const pack of melting)
    joules +=
      pack.massKg *
      (pack.heatCapacityJPerKgK * pack.startTempC +
        (pack.startTempC > pack.meltingC ? pack.latentJPerKg : 0));
  const temps = [tempOf(joules)];
  const steps = Math.round(ambient.at(-1)!.hour / stepHours);
  for (let i = 0; i < steps; i += 1) {
    const hour = (i + 0.5) * stepHours;
    const flow = conductance * (airAt(ambient, hour) - temps[i]!) + wattsAt(packs, hour);
    joules += flow * stepHours * 3_600;
    temps.push(tempOf(joules));
  }
  return {
    at: (hour: number) => temps[Math.min(steps, Math.round(hour / stepHours))]!,
    lowestC: Math.min(...temps),
    highestC: Math.max(...temps),
    hoursBelow: (tempC: number) => temps.filter((one) => one < tempC).length * stepHours,
  };
}
