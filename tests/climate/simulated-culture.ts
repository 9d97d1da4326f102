import { CYCLE_SD_LOGS, SLIP } from '../../shared/climate/drying.ts';
import type { ClimateReading, DryingCheck, DryingPrior } from '../../shared/climate/drying-form.ts';
import { saturationKpa } from '../../shared/climate/vapour.ts';
import { addDays } from '../../shared/days.ts';
import type { Random } from '../support/random.ts';

export const prior: DryingPrior = { daysToDry: 10, sdLog: 0.5, atVpdKpa: 1 };
const firstDay = '2026-06-01';

/** A culture's true constant, kPa days, what was seen of it and the room's air; drawn from the model of `drying`. */
export function simulate(random: Random, days: number) {
  const whole = prior.daysToDry * prior.atVpdKpa * Math.exp(prior.sdLog * random.normal());
  const spread = CYCLE_SD_LOGS[Math.floor(random.uniform() * CYCLE_SD_LOGS.length)] ?? 0.15;
  const rhythm = 1 + Math.floor(random.uniform() * 4);
  const climate: ClimateReading[] = [];
  const checks: DryingCheck[] = [{ date: firstDay, surface: 'wet', wateredMl: 0 }];
  let swing = 0;
  const begin = (share: number) => ({
    share,
    exposure: 0,
    driesAt: share * whole * Math.exp(spread * random.normal()),
    slips: random.uniform() < SLIP,
  });
  let cycle = begin(1);
  for (let i = 0; i < days; i += 1) {
    const date = addDays(firstDay, i);
    if (i > 0 && i % rhythm === 0) {
      const isDry = cycle.slips ? random.uniform() < 0.5 : cycle.exposure >= cycle.driesAt;
      const toppedUp = !isDry && random.uniform() < 0.1;
      checks.push({ date, surface: isDry ? 'dry' : 'moist', wateredMl: isDry ? 50 : toppedUp ? 20 : 0 });
      const left = Math.max(0, cycle.share - cycle.exposure / whole);
      if (isDry) cycle = begin(1);
      else if (toppedUp) cycle = begin(Math.min(1, left + 0.4));
    }
    swing = 0.8 * swing + 0.2 * random.normal();
    const vpd = Math.exp(swing);
    climate.push({ date, tempC: 35, humidityPct: 100 * (1 - Math.min(5, vpd) / saturationKpa(35)) });
    cycle.exposure += Math.min(5, vpd);
  }
  const left = cycle.exposure;
  return { whole, checks, climate, asOf: addDays(firstDay, days), dryNow: left >= cycle.driesAt };
}
