import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import { addDays, daysBetween } from '../../shared/days.ts';
import { climateDay, climateDayInput } from '../../shared/parcels/climate-day.ts';
import { dayLengthH, declinationOf } from '../../shared/parcels/day-length.ts';
import { type DispatchDays, dispatchDaysWith, weekdayOf } from '../../shared/parcels/dispatch-days.ts';
import { publicHolidays } from '../../shared/parcels/holidays.ts';

const askHours = (given: object) => climateDay(climateDayInput.parse(given)).hours;

describe('climate-day', () => {
  const summer = { latitude: 52.1, days: [{ date: '2026-06-21', minC: 12, maxC: 24 }] };

  test('the worked example: warmest two hours after noon', () => {
    const hours = askHours(summer);
    expect(hours).toHaveLength(24);
    expect(hours[14]).toEqual({ date: '2026-06-21', hour: 14, tempC: 24 });
    expect(Math.max(...hours.map(({ tempC }) => tempC))).toBe(24);
  });

  test('lows and highs are reached, about, and nothing goes far beyond them', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 360 }),
        fc.double({ min: -66, max: 66, noNaN: true }),
        fc.array(fc.tuple(fc.double({ min: -20, max: 20 }), fc.double({ min: 0, max: 20 })), {
          minLength: 3,
          maxLength: 3,
        }),
        (from, latitude, pairs) => {
          const days = pairs.map(([minC, range], i) => ({
            date: addDays('2026-01-01', from + i),
            minC: minC || 0,
            maxC: (minC || 0) + (range || 0),
          }));
          const hours = askHours({ latitude, days });
          expect(hours).toHaveLength(72);
          const lowest = Math.min(...days.map(({ minC }) => minC));
          const highest = Math.max(...days.map(({ maxC }) => maxC));
          const slack = 0.2 * (highest - lowest) + 1e-6;
          for (const { tempC } of hours) {
            expect(tempC).toBeGreaterThanOrEqual(lowest - slack);
            expect(tempC).toBeLessThanOrEqual(highest + slack);
          }
        },
      ),
      { numRuns: 60 },
    );
  });

  test('where the sun stays away or stays up, the day is one wave between its low and high', () => {
    for (const date of ['2026-06-21', '2026-12-21']) {
      const temps = askHours({ latitude: 78, days: [{ date, minC: -10, maxC: -2 }] }).map(
        ({ tempC }) => tempC,
      );
      expect(Math.min(...temps)).toBeCloseTo(-10, 9);
      expect(temps[14]).toBeCloseTo(-2, 9);
    }
  });

  test('the length of the day: 12 hours and some minutes at the equator, the almanac’s at 40 north', () => {
    expect(dayLengthH('2026-03-20', 0)).toBeCloseTo(12.11, 2);
    // Sunrise to sunset at 40 degrees north: 15 h 1 min at the June solstice, 9 h 20 min in December (almanacs, from memory).
    expect(dayLengthH('2026-06-21', 40)).toBeCloseTo(15.02, 1);
    expect(dayLengthH('2026-12-21', 40)).toBeCloseTo(9.33, 1);
    expect(dayLengthH('2026-06-21', 52.1)).toBeCloseTo(16.76, 2);
    expect(dayLengthH('2026-06-21', 80)).toBe(24);
    expect(dayLengthH('2026-12-21', 80)).toBe(0);
    expect((declinationOf('2026-06-21') * 180) / Math.PI).toBeCloseTo(23.45, 1);
  });

  test('faults are named where they are', () => {
    const outcome = calculations['climate-day'].run({
      latitude: 91,
      days: [
        { date: '2026-06-21', minC: 12, maxC: 11 },
        { date: '2026-06-23', minC: 1, maxC: 2 },
      ],
    });
    expect(outcome).toMatchObject({ ok: false });
    if (!outcome.ok)
      expect(outcome.faults.map(({ path }) => path).sort()).toEqual([
        'days[0].maxC',
        'days[1].date',
        'latitude',
      ]);
  });
});

const usual = {
  transitDays: 2,
  carrierWeekdays: [1, 2, 3, 4, 5],
  dispatchWeekdays: [1, 2, 3],
  noIdleDayInTransit: true,
};
const british = { country: 'GB', region: 'ENG' };
async function ask(given: object): Promise<DispatchDays> {
  const outcome = await calculations['dispatch-days'].run({ ...usual, days: 7, holidays: british, ...given });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.result as DispatchDays;
}

describe('dispatch-days', () => {
  test('the worked example: Christmas', async () => {
    expect(await ask({ from: '2026-12-21', days: 3 })).toEqual({
      dates: [
        { dispatchOn: '2026-12-21', arrivesOn: '2026-12-23' },
        { dispatchOn: '2026-12-22', arrivesOn: '2026-12-24' },
      ],
      closed: [{ date: '2026-12-23', why: 'would lie idle on 2026-12-25 (Christmas Day)' }],
    });
  });

  test('why each other day is closed', async () => {
    const { dates, closed } = await ask({ from: '2026-11-25', transitDays: 3 });
    expect(dates).toEqual([
      { dispatchOn: '2026-11-30', arrivesOn: '2026-12-03' },
      { dispatchOn: '2026-12-01', arrivesOn: '2026-12-04' },
    ]);
    expect(closed.map(({ date, why }) => `${date} ${why}`)).toEqual([
      '2026-11-25 would lie idle on 2026-11-28 (Saturday)',
      '2026-11-26 Thursday is not a day of dispatch',
      '2026-11-27 Friday is not a day of dispatch',
      '2026-11-28 the carrier does not work on Saturdays',
      '2026-11-29 the carrier does not work on Sundays',
    ]);
  });

  test('where it may lie over, it arrives so many working days later', async () => {
    const { dates } = await ask({ from: '2026-12-23', days: 1, noIdleDayInTransit: false });
    // 24 December, then Christmas Day, Boxing Day, Sunday and the day in lieu on the 28th.
    expect(dates).toEqual([{ dispatchOn: '2026-12-23', arrivesOn: '2026-12-29' }]);
    expect((await ask({ from: '2026-12-21', days: 1, transitDays: 0 })).dates[0]?.arrivesOn).toBe(
      '2026-12-21',
    );
  });

  test('a carrier that always rests ends in an answer', async () => {
    const rests = new Map(Array.from({ length: 400 }, (_, i) => [addDays('2026-12-22', i), 'Rest']));
    const question = { ...usual, from: '2026-12-21', days: 1, noIdleDayInTransit: false };
    expect(dispatchDaysWith(question, rests).closed[0]?.why).toBe('would not arrive within two months');
  });

  test('no day in transit is idle, and every day is either open or closed', () => {
    const day = fc.integer({ min: 1, max: 7 });
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 700 }),
        fc.integer({ min: 0, max: 6 }),
        fc.uniqueArray(day, { minLength: 1 }),
        fc.uniqueArray(day, { minLength: 1 }),
        fc.array(fc.integer({ min: 0, max: 40 }), { maxLength: 6 }),
        (start, transitDays, carrierWeekdays, dispatchWeekdays, restAfter) => {
          const from = addDays('2026-01-01', start);
          const rests = new Map(restAfter.map((after) => [addDays(from, after), 'Rest']));
          const question = {
            from,
            days: 20,
            transitDays,
            carrierWeekdays,
            dispatchWeekdays,
            noIdleDayInTransit: true,
          };
          const { dates, closed } = dispatchDaysWith(question, rests);
          expect(dates.length + closed.length).toBe(20);
          for (const { dispatchOn, arrivesOn } of dates) {
            expect(daysBetween(dispatchOn, arrivesOn)).toBe(transitDays);
            for (let i = 0; i <= transitDays; i += 1) {
              const date = addDays(dispatchOn, i);
              expect(carrierWeekdays).toContain(weekdayOf(date));
              expect(rests.has(date)).toBe(false);
            }
          }
        },
      ),
      { numRuns: 80 },
    );
  });

  test('weekdays after ISO 8601', () => {
    expect(weekdayOf('2026-11-25')).toBe(3);
    expect(weekdayOf('1969-12-28')).toBe(7);
  });

  test('unknown countries and regions are refused', async () => {
    const faults = async (country: string, region: string | null) => {
      const outcome = await calculations['dispatch-days'].run({
        ...usual,
        from: '2026-01-01',
        days: 1,
        holidays: { country, region },
      });
      return outcome.ok ? '' : outcome.faults.map(({ path, message }) => `${path}: ${message}`).join();
    };
    expect(await faults('ZZ', null)).toBe('holidays.country: is no country whose holidays are known');
    expect(await faults('GB', 'XX')).toMatch(/^holidays.region: is no part of GB .*ENG/);
  });
});

describe('public holidays against published calendars', () => {
  const daysOf = async (country: string, region: string | null) =>
    [...(await publicHolidays({ country, region }, [2026])).keys()].map((one) => one.slice(5));

  test('England 2026: the government’s list of bank holidays, gov.uk/bank-holidays (from memory)', async () => {
    const bank = ['01-01', '04-03', '04-06', '05-04', '05-25', '08-31', '12-25', '12-28'];
    // Boxing Day itself is a Saturday; the list names the Monday in its place.
    expect(await daysOf('GB', 'ENG')).toEqual([...bank.slice(0, 7), '12-26', '12-28']);
  });

  test('United States 2026: federal holidays, Office of Personnel Management (from memory)', async () => {
    const federal = [
      '01-01',
      '01-19',
      '02-16',
      '05-25',
      '06-19',
      '07-03',
      '09-07',
      '10-12',
      '11-11',
      '11-26',
      '12-25',
    ];
    expect(await daysOf('US', null)).toEqual(expect.arrayContaining(federal));
    expect(await daysOf('US', null)).toHaveLength(federal.length + 1); // and 4 July itself, a Saturday
  });

  test('Germany 2026: the nine holidays of all states, from their laws (from memory)', async () => {
    expect(await daysOf('DE', null)).toEqual([
      '01-01',
      '04-03',
      '04-06',
      '05-01',
      '05-14',
      '05-25',
      '10-03',
      '12-25',
      '12-26',
    ]);
    expect(await daysOf('DE', 'BY')).toContain('06-04');
  });
});
