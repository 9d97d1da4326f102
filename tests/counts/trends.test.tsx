import { eq } from 'drizzle-orm';
import { renderToString } from 'preact-render-to-string';
import { describe, expect, it } from 'vitest';
import { readTrends } from '../../server/counts/queries-trends.ts';
import { estimatePoints } from '../../server/schema/tables.ts';
import { believedOn, sumOfBelieved, trendDays, trendWay } from '../../shared/counts/trend.ts';
import { daysBetween } from '../../shared/days.ts';
import { Trend } from '../../views/counts/part-trend.tsx';
import { makeCounted } from '../support/counted-stock.ts';
import { makeSpecies } from '../support/stock.ts';
import { type TestApp, testApp, testToday } from '../support/test-app.ts';

const believed = (onDay: string, median: number, lower = median, upper = median) => ({
  onDay,
  median,
  lower,
  upper,
});

describe('a trend', () => {
  it('looks at days of equal distance that end today', () => {
    expect(trendDays('2026-11-26', 2, 14)).toEqual(['2026-10-29', '2026-11-12', '2026-11-26']);
  });

  it('goes evenly from what was believed after one event to before the next', () => {
    const [last, next] = [believed('2026-11-01', 100, 90, 110), believed('2026-11-11', 120, 80, 160)];
    expect(believedOn('2026-11-06', last, next)).toEqual(believed('2026-11-06', 110, 85, 135));
    expect(believedOn('2026-11-06', null, next)).toBeNull();
    expect(believedOn('2026-11-20', last, null)).toEqual(believed('2026-11-20', 100, 90, 110));
  });

  it('adds doubts as variances', () => {
    const sum = sumOfBelieved('2026-11-01', [
      believed('2026-11-01', 100, 67.1, 132.9),
      believed('2026-11-01', 100, 67.1, 132.9),
    ]);
    expect(sum.median).toBe(200);
    expect([sum.lower, sum.upper].map((end) => end.toFixed(1))).toEqual(['153.5', '246.5']);
  });

  it('is only one where each middle lies outside the doubt of the other', () => {
    const first = believed('2026-05-01', 60, 50, 72);
    expect(trendWay([first, believed('2026-11-01', 140, 105, 190)])).toBe('up');
    expect(trendWay([first, believed('2026-11-01', 70, 50, 95)])).toBe('unclear');
    expect(trendWay([first, believed('2026-11-01', 20, 12, 30)])).toBe('down');
    expect(trendWay([first])).toBeNull();
  });

  it('is said in words beside the curve, and the curve is hidden from those who listen', () => {
    const points = [believed('2026-05-01', 61, 50, 72), believed('2026-11-01', 140, 105, 190)];
    const html = renderToString(<Trend points={points} />);
    expect(html).toContain('up from about 61');
    expect(html).toMatch(/<svg class="spark"[^>]*aria-hidden="true"/);
    expect(renderToString(<Trend points={[]} />)).toBe(
      '<span class="trend"><span class="trend-words">too new to say</span></span>',
    );
  });
});

function listen(t: TestApp) {
  const prepare = t.sqlite.prepare.bind(t.sqlite);
  const seen: string[] = [];
  t.sqlite.prepare = ((sql: string) => {
    seen.push(sql);
    return prepare(sql);
  }) as typeof t.sqlite.prepare;
  return seen;
}

describe('the trends of a list', () => {
  it('are read between the stored points, and of many cultures with as many statements as of one', async () => {
    const t = await testApp();
    const species = makeSpecies(t.db);
    const ids = [100, 120, 140, 160].map((animals) => makeCounted(t.db, species.id, animals).id);
    const [first = 0] = ids;
    const ends = { beforeLower: 40, beforeUpper: 70, afterLower: 40, afterUpper: 70 };
    t.db
      .insert(estimatePoints)
      .values({
        cultureId: first,
        onDay: '2026-06-01',
        position: 1,
        beforeMedian: 50,
        afterMedian: 50,
        ...ends,
      })
      .run();
    const trends = readTrends(t.db, ids, testToday);
    const medians = trends.get(first)?.map(({ median }) => median) ?? [];
    expect(medians).toHaveLength(13);
    // From 50 on 1 June evenly to what was believed just before the count of today; today what is believed since.
    const counted = t.db.select().from(estimatePoints).where(eq(estimatePoints.onDay, testToday)).get();
    const share = daysBetween('2026-06-01', '2026-06-10') / daysBetween('2026-06-01', testToday);
    expect(medians[0]).toBeCloseTo(50 + ((counted?.beforeMedian ?? 0) - 50) * share, 6);
    expect(Math.round(medians.at(-1) ?? 0)).toBe(100);
    const statements = [ids, [first]].map((some) => {
      const seen = listen(t);
      readTrends(t.db, some, testToday);
      return seen.length;
    });
    expect(statements[1]).toBeLessThanOrEqual(2);
    const page = (await t.owner.get('/cultures')).text;
    expect(page).toContain('class="spark"');
  });
});
