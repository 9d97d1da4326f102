import { describe, expect, it } from 'vitest';
import {
  capacityWords,
  chanceWords,
  safetyWords,
  shareWords,
  spreadWords,
  starterGroupWords,
} from '../../views/species/say.ts';
import { bandsOf, ticksOf } from '../../views/species/temperature-layout.ts';

describe('what a species page says', () => {
  it('of a starter group', () => {
    expect(starterGroupWords({ groupAdults: 10, groupJuveniles: 2, groupExtras: 2 })).toBe(
      '10 adults and 2 juveniles, 2 extra against losses',
    );
    expect(starterGroupWords({ groupAdults: 0, groupJuveniles: 1, groupExtras: 0 })).toBe('1 juvenile');
  });

  it('of how safe a start is', () => {
    const even = { femaleShare: 0.5, startMales: 2, startFemales: 2 };
    expect(safetyWords(12, even, 0.99365)).toBe(
      'A group of 12 has both sexes at least twice in 99.4\u00a0% of cases.',
    );
    expect(safetyWords(12, { ...even, startFemales: 4, femaleShare: 0.6 }, 0.9)).toBe(
      'A group of 12 has at least 2 males and 4 females in 90\u00a0% of cases, with 60\u00a0% females.',
    );
    const alone = { femaleShare: 1, startMales: 0, startFemales: 2 };
    expect(safetyWords(20, alone, 1)).toBe('A group of 20 is enough: all are females that need no male.');
    expect(safetyWords(1, alone, 0)).toBe('A group of 1 is too few: a start needs 2.');
    expect(safetyWords(5, { ...even, startMales: 0, startFemales: 0 }, 1)).toContain('no sex in particular');
  });

  it('of a chance, never rounding it to certainty', () => {
    expect([1, 0.99999, 0.99365, 0.5, 0.0001, 0].map((one) => chanceWords(one))).toEqual([
      '100\u00a0%',
      'more than 99.9\u00a0%',
      '99.4\u00a0%',
      '50\u00a0%',
      'less than 0.1\u00a0%',
      '0\u00a0%',
    ]);
  });

  it('of a figure in doubt', () => {
    // exp(0.5 x 1.645) = 2.276: 20 / 2.276 and 20 x 2.276
    expect(spreadWords(20, 0.5)).toBe('about 20 (8.8 to 46)');
    expect(spreadWords(20, 0)).toBe('20');
    expect(capacityWords({ capacityPerLitreMedian: 20, capacitySdLog: 0 }, 'metric')).toBe(
      '20 a litre of substrate',
    );
    expect(capacityWords({ capacityPerLitreMedian: 20, capacitySdLog: 0 }, 'us')).toBe(
      '18.9 a quart of substrate',
    );
    expect(shareWords(6, 14)).toBe('of 20 animals about 6');
  });
});

describe('the temperature scale', () => {
  const limits = {
    lethalLowC: 0,
    safeLowC: 8,
    idealLowC: 20,
    idealHighC: 25,
    safeHighC: 29,
    lethalHighC: 36,
  };

  it('has seven stretches that join without a gap', () => {
    const bands = bandsOf(limits, 7);
    expect(bands.map((band) => band.kind)).toEqual([
      'deadly',
      'harm',
      'safe',
      'best',
      'safe',
      'harm',
      'deadly',
    ]);
    for (const [i, band] of bands.entries()) {
      const next = bands[i + 1];
      if (next) expect(next.fromC).toBe(band.toC);
    }
    expect([bands[0]?.fromC, bands.at(-1)?.toC]).toEqual([-7, 43]);
  });

  it('leaves out a stretch without width', () => {
    expect(bandsOf({ ...limits, safeLowC: 0 }, 7).filter((band) => band.kind === 'harm')).toHaveLength(1);
  });

  it('marks each limit, those that would touch in a second row', () => {
    const ticks = ticksOf(limits, (tempC) => tempC * 8, 34);
    expect(ticks.map(({ tempC, row }) => [tempC, row])).toEqual([
      [0, 0],
      [8, 0],
      [20, 0],
      [25, 0],
      [29, 1],
      [36, 0],
    ]);
    const same = ticksOf({ ...limits, idealHighC: 20 }, (tempC) => tempC * 8, 34);
    expect(same.map((tick) => tick.tempC)).toEqual([0, 8, 20, 29, 36]);
  });
});
