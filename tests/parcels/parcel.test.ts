import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { conductanceOf, meanAreaM2 } from '../../shared/parcels/conductance.ts';
import {
  type Node,
  nodeOf,
  startingWarmth,
  type Warmth,
  warmthAt,
} from '../../shared/parcels/heat-content.ts';
import { heatGiven } from '../../shared/parcels/heat-given.ts';
import { goneIn, reaches, sumReaches, tempAfter, turnsAfter } from '../../shared/parcels/heat-line.ts';
import { parcel } from '../../shared/parcels/parcel.ts';
import { type ParcelQuestion, parcelInput } from '../../shared/parcels/parcel-form.ts';
import { airOfPoints, runParcel } from '../../shared/parcels/run-parcel.ts';
import { simulate } from './small-steps.ts';

const limits = { lethalLowC: 0, safeLowC: 8, safeHighC: 28, lethalHighC: 33 };
const steady = (tempC: number, hours: number) => [
  { hour: 0, tempC },
  { hour: hours, tempC },
];
const plain = {
  ambient: steady(0, 10),
  box: { conductanceWPerK: 0.1 },
  contents: { massKg: 1, heatCapacityJPerKgK: 3600 },
  startTempC: 20,
  limits,
};
const ask = (given: object) => parcel(parcelInput.parse({ ...plain, ...given }));
const ice = {
  kind: 'melting',
  massKg: 0.1,
  meltingC: 0,
  latentJPerKg: 333_600,
  startTempC: 0,
  heatCapacityJPerKgK: 4186,
};

function refuses(input: object): string {
  const outcome = calculations.parcel.run({ ...plain, ...input });
  if (outcome.ok) throw new Error('was not refused');
  return outcome.faults.map(({ path, message }) => `${path}: ${message}`).join('\n');
}

function run(question: ParcelQuestion) {
  const { contents, packs } = question;
  const node = nodeOf(contents, packs);
  const start = startingWarmth(node, contents, packs, question.startTempC);
  const air = airOfPoints(question.ambient);
  const endHour = question.ambient.at(-1)?.hour ?? 0;
  const heat = heatGiven(packs, endHour);
  const conductanceWPerK = conductanceOf(question.box);
  return { node, start, ...runParcel({ air, conductanceWPerK, node, start, heat, safe: question.limits }) };
}

describe('parcel', () => {
  test('the worked example: steady air, the closed form at every step', () => {
    const answer = ask({ stepMinutes: 60 });
    expect(answer.lowestC).toBeCloseTo(20 / Math.E, 12);
    expect(answer.inside).toHaveLength(11);
    for (const { hour, tempC } of answer.inside) expect(tempC).toBeCloseTo(20 * Math.exp(-hour / 10), 12);
    expect(answer.hoursBelowSafe).toBeCloseTo(10 - 10 * Math.log(20 / 8), 8);
    expect(answer).toMatchObject({ highestC: 20, hoursAboveSafe: 0, verdict: 'caution' });
  });

  test('the verdict: lethal when reached, caution when crossed, go at the safe limit itself', () => {
    expect(ask({ ambient: steady(8, 300), startTempC: 8 }).verdict).toBe('go');
    expect(ask({ ambient: steady(0, 10), startTempC: 0 }).verdict).toBe('do not send');
    expect(ask({ ambient: steady(33, 10), startTempC: 33 }).verdict).toBe('do not send');
    expect(ask({ ambient: steady(29, 300), startTempC: 20 }).verdict).toBe('caution');
  });

  test('a heat pack lifts a steady parcel by its watts over the conductance, and then lets go', () => {
    const pack = { kind: 'heat', watts: 2, hours: 200, warmUpHours: 0 };
    const { inside } = ask({ ambient: steady(0, 250), packs: [pack], startTempC: 0 });
    const at = (hour: number) => inside.find((one) => one.hour === hour)?.tempC ?? Number.NaN;
    expect(at(200)).toBeCloseTo(20, 6);
    expect(at(10)).toBeCloseTo(20 * (1 - Math.exp(-1)), 9);
    expect(at(210)).toBeCloseTo(20 / Math.E, 6);
  });

  test('a warm-up rises evenly, so that a pack gives its watts times its hours less half of it', () => {
    const question = parcelInput.parse({
      ...plain,
      ambient: steady(0, 60),
      packs: [{ kind: 'heat', watts: 4, hours: 40 }],
    });
    expect(heatGiven(question.packs, 48)).toEqual([
      { from: 0, to: 1, watts: 0, wattsPerHour: 4 },
      { from: 1, to: 40, watts: 4, wattsPerHour: 0 },
      { from: 40, to: 48, watts: 0, wattsPerHour: 0 },
    ]);
    expect(run(question).givenJ).toBeCloseTo(4 * 39.5 * 3600, 6);
  });

  test('water and ice come to one temperature, as school books work it out (from memory)', () => {
    const water = { massKg: 1, heatCapacityJPerKgK: 4186 };
    const { inside } = ask({ contents: water, startTempC: 20, packs: [ice] });
    expect(inside[0]?.tempC).toBeCloseTo((1 * 4186 * 20 - 0.1 * 333_600) / (1.1 * 4186), 9);
    expect(inside[0]?.tempC).toBeCloseTo(10.94, 2);
  });

  test('melting ice holds at 0 for as long as its latent heat lasts, to the second', () => {
    // 0.1 kg x 333.6 kJ/kg through 0.1 W/K from 20 degrees: 33,360 J at 2 W = 4.6333 h.
    const question = { contents: { massKg: 1e-3, heatCapacityJPerKgK: 1 }, startTempC: 0, packs: [ice] };
    const { inside } = ask({ ...question, ambient: steady(20, 12), stepMinutes: 1 });
    const until = 33_360 / 2 / 3600;
    for (const { hour, tempC } of inside) {
      const tau = (0.1 * 4186 + 1e-3) / 360;
      const wanted = hour <= until ? 0 : 20 * (1 - Math.exp(-(hour - until) / tau));
      expect(tempC).toBeCloseTo(wanted, 9);
    }
  });

  test('a pack that was molten gives its heat back as it freezes', () => {
    const warm = { ...ice, meltingC: 18, startTempC: 20 };
    const { lowestC } = ask({ ambient: steady(0, 4), packs: [warm], startTempC: 20 });
    expect(lowestC).toBe(18);
  });

  test('a pack that is left a hair from its melting point freezes when the air falls', () => {
    const question = parcelInput.parse({
      ...plain,
      ambient: [
        { hour: 0, tempC: -4.4e-323 },
        { hour: 12, tempC: 0 },
        { hour: 24, tempC: -5 },
      ],
      box: { conductanceWPerK: 0.01 },
      contents: { massKg: 0.001, heatCapacityJPerKgK: 2500 },
      startTempC: 0,
      packs: [{ ...ice, massKg: 0.030652923592963326, latentJPerKg: 1000, startTempC: 5e-324 }],
    });
    const { start, end } = run(question);
    expect(start.moltenJ[0]).toBeCloseTo(30.65, 2);
    expect(end().moltenJ[0]).toBe(0);
  });

  test('two points of one hour are a step', () => {
    const ambient = [...steady(20, 5), { hour: 5, tempC: 0 }, { hour: 15, tempC: 0 }];
    const { inside } = ask({ ambient });
    expect(inside.find(({ hour }) => hour === 5)?.tempC).toBe(20);
    expect(inside.at(-1)?.tempC).toBeCloseTo(20 / Math.E, 9);
  });

  test('faults are named where they are', () => {
    expect(refuses({ box: {} })).toContain('box.wallMm: is missing');
    expect(refuses({ box: { conductanceWPerK: 1, wallMm: 3 } })).toBe(
      'box.wallMm: does not go with conductanceWPerK: one or the other',
    );
    expect(
      refuses({
        ambient: [
          { hour: 1, tempC: 3 },
          { hour: 2, tempC: 3 },
        ],
      }),
    ).toBe('ambient[0].hour: must be 0, the start of the trip');
    expect(refuses({ ambient: [...steady(3, 5), { hour: 4, tempC: 3 }] })).toBe(
      'ambient[2].hour: must not be before the one above it',
    );
    expect(refuses({ ambient: steady(3, 0) })).toBe('ambient: must reach past hour 0');
    expect(refuses({ limits: { ...limits, safeHighC: 8 } })).toBe('limits.safeHighC: must be above safeLowC');
    expect(refuses({ packs: [{ kind: 'heat', watts: 4, hours: 0.5 }] })).toBe(
      'packs[0].warmUpHours: must not be longer than hours, 0.5',
    );
    expect(refuses({ lid: 'tight' })).toBe('lid: is not known here');
  });
});

const free = fc.double({ min: -25, max: 45, noNaN: true });
/** Often just at a melting point, where rounding could carry a pack past it. */
const temp = fc.oneof(free, free, fc.constantFrom(0, 5, 18));
const heatPack = fc.record({
  kind: fc.constant('heat' as const),
  watts: fc.double({ min: 0.1, max: 6, noNaN: true }),
  hours: fc.double({ min: 2, max: 60, noNaN: true }),
  warmUpHours: fc.double({ min: 0, max: 2, noNaN: true }),
});
const meltingPack = fc.record({
  kind: fc.constant('melting' as const),
  massKg: fc.double({ min: 0.05, max: 1, noNaN: true }),
  meltingC: fc.constantFrom(0, 5, 5, 18, 22.5),
  latentJPerKg: fc.double({ min: 1e4, max: 4e5, noNaN: true }),
  startTempC: fc.double({ min: -20, max: 30, noNaN: true }),
  heatCapacityJPerKgK: fc.double({ min: 1500, max: 4200, noNaN: true }),
});
const questions = fc
  .record({
    temps: fc.array(temp, { minLength: 2, maxLength: 12 }),
    conductanceWPerK: fc.double({ min: 0.1, max: 2, noNaN: true }),
    massKg: fc.double({ min: 0.05, max: 4, noNaN: true }),
    startTempC: fc.double({ min: 5, max: 30, noNaN: true }),
    packs: fc.array(fc.oneof(heatPack, meltingPack), { maxLength: 3 }),
  })
  .map(
    ({ temps, conductanceWPerK, massKg, startTempC, packs }): ParcelQuestion => ({
      ambient: temps.map((tempC, i) => ({ hour: i * 7.3, tempC })),
      box: { conductanceWPerK },
      contents: { massKg, heatCapacityJPerKgK: 2500 },
      startTempC,
      packs,
      limits: { lethalLowC: 2, safeLowC: 8, safeHighC: 27, lethalHighC: 33 },
      stepMinutes: 30,
    }),
  );

/** The joules of a node against the same node frozen at 0 degrees. */
const heatOf = ({ heatCapacityJPerK }: Node, { tempC, moltenJ }: Warmth) =>
  moltenJ.reduce((sum, joules) => sum + joules, heatCapacityJPerK * tempC);

describe('parcel, for any trip', () => {
  test('energy is conserved: what came through the walls and from the packs is what the node holds, to 1e-6', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const { node, start, end, throughWallsJ, givenJ } = run(question);
        const gained = heatOf(node, end()) - heatOf(node, start);
        const scale = Math.abs(throughWallsJ) + givenJ + node.heatCapacityJPerK;
        expect(Math.abs(gained - throughWallsJ - givenJ) / scale).toBeLessThan(1e-6);
        // And no pack was passed unmolten: the temperature is the one that goes with the joules.
        expect(end().tempC).toBeCloseTo(warmthAt(node, heatOf(node, end())).tempC, 4);
      }),
      { numRuns: 150 },
    );
  });

  test('it is what many small steps come to', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const { inside, lowestC, highestC, hoursBelowSafe } = parcel(question);
        const small = simulate(question, 0.005);
        const near = 0.15 + 0.01 * (highestC - lowestC);
        for (const { hour, tempC } of inside.filter((_, i) => i % 7 === 0))
          expect(Math.abs(tempC - small.at(hour))).toBeLessThan(near);
        expect(Math.abs(lowestC - small.lowestC)).toBeLessThan(near);
        expect(Math.abs(highestC - small.highestC)).toBeLessThan(near);
        // At the limit itself a small difference in temperature is a large one in hours, so only the sum is held.
        expect(hoursBelowSafe).toBeGreaterThanOrEqual(small.hoursBelow(7.8) - 0.1);
        expect(hoursBelowSafe).toBeLessThanOrEqual(small.hoursBelow(8.2) + 0.1);
      }),
      { numRuns: 25 },
    );
  });

  test('colder air never gives a warmer inside', () => {
    fc.assert(
      fc.property(questions, fc.double({ min: 0, max: 10, noNaN: true }), (question, colderBy) => {
        const colder = question.ambient.map(({ hour, tempC }) => ({ hour, tempC: tempC - colderBy }));
        const [warm, cold] = [parcel(question).inside, parcel({ ...question, ambient: colder }).inside];
        for (const [i, { tempC }] of cold.entries())
          expect(tempC).toBeLessThanOrEqual((warm[i]?.tempC ?? Number.NaN) + 1e-8);
      }),
      { numRuns: 100 },
    );
  });

  test('the step of the answer changes nothing but the number of points', () => {
    fc.assert(
      fc.property(questions, (question) => {
        const [fine, coarse] = [parcel({ ...question, stepMinutes: 7 }), parcel(question)];
        expect(fine.lowestC).toBeCloseTo(coarse.lowestC, 7);
        expect(fine.hoursAboveSafe).toBeCloseTo(coarse.hoursAboveSafe, 5);
        expect(fine.inside.at(-1)?.tempC).toBeCloseTo(coarse.inside.at(-1)?.tempC ?? Number.NaN, 7);
      }),
      { numRuns: 50 },
    );
  });
});

describe('the walls', () => {
  const box = {
    insideMm: [200, 150, 100] as [number, number, number],
    wallMm: 20,
    conductivityWPerMK: 0.035,
    filmWPerM2K: { inside: 8, outside: 15 },
  };

  test('the worked example: film, wall and film in series over the mean area', () => {
    expect(meanAreaM2(box.insideMm, 20)).toBeCloseTo((0.13 + 0.2116) / 2, 12);
    expect(conductanceOf(box)).toBeCloseTo(0.1708 / (1 / 8 + 0.02 / 0.035 + 1 / 15), 12);
  });

  test('a wall twice as thick adds its resistance once more; a measured box is what was measured', () => {
    const area = (wallMm: number) => meanAreaM2(box.insideMm, wallMm);
    const resistance = (wallMm: number) => area(wallMm) / conductanceOf({ ...box, wallMm });
    expect(resistance(40) - resistance(20)).toBeCloseTo(0.02 / 0.035, 12);
    expect(conductanceOf({ conductanceWPerK: 0.31 })).toBe(0.31);
  });
});

describe('the closed form', () => {
  test('its worked examples', () => {
    expect(tempAfter({ from: 20, towards: 0, slope: 0, tau: 10 }, 10)).toBeCloseTo(7.358, 3);
    expect(turnsAfter({ from: 10, towards: 0, slope: 10, tau: 1 }, 5)).toBeCloseTo(Math.log(2), 12);
    expect(goneIn(10, 10)).toBeCloseTo(0.632, 3);
    expect(reaches({ from: 20, towards: 0, slope: 0, tau: 10 }, 10, 0, 48)).toBeCloseTo(6.931, 3);
    expect(sumReaches(2, 0, 10)).toBe(5);
    expect(sumReaches(-1, 2, 0)).toBeCloseTo(1, 12);
  });

  test('the moment a level is reached is where the level is', () => {
    fc.assert(
      fc.property(
        temp,
        temp,
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.double({ min: 0.05, max: 500, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (from, towards, slope, tau, share) => {
          const stretch = { from, towards, slope, tau };
          const end = turnsAfter(stretch, 30) ?? 30;
          const level = tempAfter(stretch, end * share);
          expect(tempAfter(stretch, reaches(stretch, level, 0, end))).toBeCloseTo(level, 7);
        },
      ),
      { numRuns: 200 },
    );
  });
});
