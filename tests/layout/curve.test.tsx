import { describe, expect, it } from 'vitest';
import { deskSheet, phoneSheet, planCurve } from '../../views/counts/curve-plan.ts';
import { type CurveData, PopulationCurve } from '../../views/counts/part-curve.tsx';
import { renderPart } from '../../views/layout/render.ts';

const data: CurveData = {
  past: [
    { date: '2026-01-05', median: 20, lower: 15, upper: 28 },
    { date: '2026-02-02', median: 60, lower: 45, upper: 80 },
    { date: '2026-03-02', median: 138, lower: 104, upper: 191 },
  ],
  ahead: [{ date: '2026-04-13', median: 180, lower: 110, upper: 280 }],
  counts: [
    {
      date: '2026-02-18',
      counted: 52,
      impliedMedian: 120,
      impliedLower: 80,
      impliedUpper: 200,
      method: 'visible count',
    },
  ],
  removals: [
    { date: '2026-02-20', animals: 12, label: 'harvest' },
    { date: '2026-02-21', animals: 12, label: 'split' },
  ],
  additions: [{ date: '2026-01-20', animals: 6, label: 'joined' }],
  dieOffs: [{ date: '2026-02-10' }],
  capacity: { median: 230, lower: 170, upper: 310 },
  reserve: 60,
  today: '2026-03-02',
};

const draw = (over: Partial<CurveData> = {}) =>
  renderPart(<PopulationCurve data={{ ...data, ...over }} finding="Growing, and full by May" />);

describe('the population curve', () => {
  it('states its finding, and is drawn for the desk and for the phone', () => {
    const html = draw();
    expect(html).toContain('<span class="chart-finding">Growing, and full by May</span>');
    expect(html).toContain('class="curve curve-desk"');
    expect(html).toContain('class="curve curve-phone"');
    expect(html.match(/role="img" aria-label="Growing, and full by May"/g)).toHaveLength(2);
  });

  it('labels things where they are: today, capacity, reserve, what was seen', () => {
    const html = draw();
    expect(html).toContain('today: about 140 (105 to 190)');
    expect(html).toContain('holds about 230 (170 to 310)');
    expect(html).toContain('must stay: 60');
    expect(html).toContain('52 seen');
    expect(html).toContain('die-off');
    expect(html).toContain('animals');
  });

  it('has a notch for every removal, and drops words that would run into others', () => {
    const desk = draw().split('curve-phone')[0]!;
    expect(desk.match(/class="curve-notch"/g)).toHaveLength(4); // two out, one in, the reserve
    expect(desk.match(/\u221212/g)).toHaveLength(1);
    expect(desk).toContain('+6');
  });

  it('tells the same in a table', () => {
    const table = draw().split('<details')[1]!;
    expect(table.match(/<th scope="row"/g)).toHaveLength(7);
    expect(table).toContain('52 seen');
    expect(table).toContain('estimate ahead');
  });

  it('begins at zero and has a tick for each month with its year', () => {
    const plan = planCurve(data, deskSheet, 'en-GB')!;
    expect(plan.y(0)).toBe(plan.bottom);
    expect(plan.yTicks[0]).toBe(0);
    expect(plan.months.map((month) => month.label)).toEqual(['Feb', 'Mar', 'Apr']);
    expect(plan.months[0]!.year).toBe('2026');
    expect(plan.months[1]!.year).toBeNull();
  });

  it('thins the months of a long history', () => {
    const long = { ...data, past: [{ date: '2023-01-05', median: 1, lower: 1, upper: 1 }, ...data.past] };
    const months = planCurve(long, phoneSheet, 'en-GB')!.months;
    expect(months.length).toBeGreaterThan(2);
    for (const [index, month] of months.slice(1).entries()) {
      expect(month.x - months[index]!.x).toBeGreaterThan(34);
    }
  });

  it('is not flattened by a capacity far above', () => {
    const plan = planCurve(
      { ...data, capacity: { median: 5000, lower: 4000, upper: 6000 } },
      deskSheet,
      'en-GB',
    )!;
    expect(Math.max(...plan.yTicks)).toBeLessThan(400);
    expect(draw({ capacity: { median: 5000, lower: 4000, upper: 6000 } })).toContain('beyond this chart');
  });

  it('keeps every coordinate a number, also with one point or none', () => {
    expect(draw({ ahead: [], past: data.past.slice(0, 1), counts: [], today: '2026-01-05' })).not.toMatch(
      /NaN|undefined/,
    );
    expect(draw()).not.toMatch(/NaN|undefined/);
    const nothing = draw({ ahead: [], past: [], counts: [], removals: [], additions: [], dieOffs: [] });
    expect(nothing).toContain('Nothing to draw yet');
  });
});
