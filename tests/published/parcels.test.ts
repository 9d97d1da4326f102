import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import type { ClimateHours } from '../../shared/parcels/climate-day.ts';
import { conductanceOf, meanAreaM2 } from '../../shared/parcels/conductance.ts';
import { ICE_LATENT_J_PER_KG } from '../../shared/parcels/handbook.ts';
import { nodeOf, startingWarmth } from '../../shared/parcels/heat-content.ts';
import { reaches } from '../../shared/parcels/heat-line.ts';
import type { ParcelPack } from '../../shared/parcels/parcel-form.ts';
import { airOfPoints, runParcel } from '../../shared/parcels/run-parcel.ts';
import { expectRow, expectRowList, row, titleOf } from './rows.ts';

const numbers = (id: string) => row(id).inputs as Record<string, number>;

/** How long one node takes from one temperature to another in steady air, in the time unit of `tau`. */
const cooling = (tau: number, from: number, towards: number, to: number): number =>
  reaches({ from, towards, slope: 0, tau }, to, 0, 1000 * tau);

describe('hours of a day', () => {
  const linvill = 'g22-hourly-linvill-lat40';
  test(titleOf(linvill), () => {
    const inputs = row(linvill).inputs as {
      lat: number;
      tmin: number;
      tmax: number;
      prev: [number, number];
      next_min: number;
    };
    const [minC, maxC] = inputs.prev;
    const outcome = calculations['climate-day'].run({
      latitude: inputs.lat,
      days: [
        { date: '2026-01-14', minC, maxC },
        { date: '2026-01-15', minC: inputs.tmin, maxC: inputs.tmax },
        { date: '2026-01-16', minC: inputs.next_min, maxC: 10 },
      ],
    });
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
    const { hours } = outcome.result as ClimateHours;
    for (const [i, { tempC }] of hours.slice(24, 48).entries()) {
      const wanted = (row(linvill).expected as { hours: number[] }).hours[i] ?? Number.NaN;
      expect(Math.abs(tempC - wanted), `hour ${i}`).toBeLessThanOrEqual(0.001);
    }
  });
});

describe('one node that warms or cools', () => {
  const junction = 'j01-incropera-5.1';
  test(titleOf(junction), () => {
    const { h, c, rho, tau, Ti, Tinf, T } = numbers(junction);
    expectRow(junction, (6 * h! * tau!) / (rho! * c!), 'D');
    expectRow(junction, cooling(tau!, Ti!, Tinf!, T!), 't');
  });

  const couple = 'j02-cengel-4.1';
  test(titleOf(couple), () => {
    const { D, rho, cp, h, fraction } = numbers(couple);
    const tau = (rho! * cp! * D!) / 6 / h!;
    expectRow(couple, 1 / tau, 'b');
    expectRow(couple, cooling(tau, 1, 0, fraction!), 't');
  });

  const body = 'j03-cengel-4.2';
  test(titleOf(body), () => {
    const { r, L, rho, cp, h, Ti, Tinf, T } = numbers(body);
    const length = (r! * L!) / (2 * (L! + r!));
    expectRow(body, cooling((rho! * cp! * length) / h! / 3600, Ti!, Tinf!, T!), 'hours');
  });

  const bead = 'j04-som-4.2';
  test(titleOf(bead), () => {
    const { d, rho, c, h, fraction } = numbers(bead);
    const tau = (rho! * c! * d!) / 6 / h!;
    expectRow(bead, tau, 'tau');
    expectRow(bead, cooling(tau, 1, 0, fraction!), 't');
  });

  const slab = 'j05-sachdeva-5.2';
  test(titleOf(slab), () => {
    const { thickness, rho, c, h, Ti, Tinf, T } = numbers(slab);
    expectRow(slab, cooling((rho! * c! * thickness!) / 2 / h!, Ti!, Tinf!, T!), 't');
  });
});

/** How many kilograms of ice at 0 degrees melt in a box of so many W/K. */
function melted(conductanceWPerK: number, outC: number, hours: number, iceKg: number, latentJPerKg: number) {
  const packs: ParcelPack[] = [
    { kind: 'melting', massKg: iceKg, meltingC: 0, latentJPerKg, startTempC: 0, heatCapacityJPerKgK: 4186 },
  ];
  const contents = { massKg: 1e-6, heatCapacityJPerKgK: 1 };
  const node = nodeOf(contents, packs);
  const run = runParcel({
    air: airOfPoints([
      { hour: 0, tempC: outC },
      { hour: hours, tempC: outC },
    ]),
    conductanceWPerK,
    node,
    start: startingWarmth(node, contents, packs, 0),
    heat: [],
    safe: { safeLowC: -1, safeHighC: 1 },
  });
  expect([run.lowestC, run.highestC]).toEqual([0, 0]);
  return { kg: (run.end().moltenJ[0] ?? 0) / latentJPerKg, watts: run.throughWallsJ / (hours * 3600) };
}

describe('boxes of ice', () => {
  const school = 'j06-icebox-ncert';
  test(titleOf(school), () => {
    const { side, wall, k, T_out, hours, ice_kg, Lf } = numbers(school);
    const { kg } = melted((k! * 6 * side! ** 2) / wall!, T_out!, hours!, ice_kg!, Lf!);
    expectRow(school, ice_kg! - kg, 'remaining_kg');
  });

  const college = 'j10-openstax-icebox';
  test(titleOf(college), () => {
    const { k, A, d, dT, hours, Lf } = numbers(college);
    const { kg, watts } = melted((k! * A!) / d!, dT!, hours!, 5, Lf!);
    expectRow(college, watts, 'W');
    expectRow(college, kg, 'melted_kg');
  });

  const latent = 'j21-latent-heats';
  test(titleOf(latent), () => {
    expectRow(latent, ICE_LATENT_J_PER_KG / 1000, 'kJ_per_kg');
  });
});

describe('walls', () => {
  const boards = 'j08-R-from-k';
  test(`${titleOf(boards)} (what is left of a box's resistance without its films)`, () => {
    const { thickness, k } = row(boards).inputs as { thickness: number[]; k: number };
    const filmWPerM2K = { inside: 8, outside: 15 };
    const insideMm: [number, number, number] = [300, 300, 300];
    const resistances = thickness.map((metres) => {
      const wall = { insideMm, wallMm: metres * 1000, conductivityWPerMK: k, filmWPerM2K };
      return meanAreaM2(insideMm, wall.wallMm) / conductanceOf(wall) - 1 / 8 - 1 / 15;
    });
    expectRowList(boards, resistances, 'R');
  });
});
