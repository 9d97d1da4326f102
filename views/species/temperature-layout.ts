import type { TemperatureLimits } from '../../shared/species/columns.ts';

export type Band = { kind: 'deadly' | 'harm' | 'safe' | 'best'; fromC: number; toC: number };
export type Tick = { x: number; tempC: number; rounding: 'up' | 'down'; row: 0 | 1 };

/** Seven stretches of the scale; those without any width are left out. */
export function bandsOf(limits: TemperatureLimits, marginC: number): Band[] {
  const { lethalLowC, safeLowC, idealLowC, idealHighC, safeHighC, lethalHighC } = limits;
  const bands: Band[] = [
    { kind: 'deadly', fromC: lethalLowC - marginC, toC: lethalLowC },
    { kind: 'harm', fromC: lethalLowC, toC: safeLowC },
    { kind: 'safe', fromC: safeLowC, toC: idealLowC },
    { kind: 'best', fromC: idealLowC, toC: idealHighC },
    { kind: 'safe', fromC: idealHighC, toC: safeHighC },
    { kind: 'harm', fromC: safeHighC, toC: lethalHighC },
    { kind: 'deadly', fromC: lethalHighC, toC: lethalHighC + marginC },
  ];
  return bands.filter((band) => band.toC > band.fromC);
}

/** Where the six limits are marked; a figure that would run into the one before goes into a second row. */
export function ticksOf(limits: TemperatureLimits, x: (tempC: number) => number, widest: number): Tick[] {
  const { lethalLowC, safeLowC, idealLowC, idealHighC, safeHighC, lethalHighC } = limits;
  const lows = [lethalLowC, safeLowC, idealLowC].map((tempC) => ({ tempC, rounding: 'up' as const }));
  const highs = [idealHighC, safeHighC, lethalHighC].map((tempC) => ({ tempC, rounding: 'down' as const }));
  const ends: [number, number] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const ticks: Tick[] = [];
  for (const { tempC, rounding } of [...lows, ...highs]) {
    const at = x(tempC);
    if (ticks.some((tick) => tick.x === at)) continue;
    const row = at - widest / 2 >= ends[0] ? 0 : 1;
    ends[row] = at + widest / 2;
    ticks.push({ x: at, tempC, rounding, row });
  }
  return ticks;
}
