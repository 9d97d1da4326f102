import { describe, expect, it } from 'vitest';
import { dayWords } from '../../views/documents/day-words.ts';
import { animalsOf, totalsOf } from '../../views/documents/packing-totals.ts';
import { layerAreas, scaleFor, sectionOf } from '../../views/documents/section-geometry.ts';
import { limitsInWords } from '../../views/documents/temperature-scale.ts';
import { textureMark } from '../../views/documents/textures.ts';
import { order, pick, scaber } from './sample-orders.ts';

describe('dayWords', () => {
  it('says the weekday', () => expect(dayWords('2026-11-11', 'en-GB')).toBe('Wednesday 11 November 2026'));
  it('is short in a foot', () => expect(dayWords('2026-11-01', 'de-DE', 'short')).toBe('Sun 1 Nov 2026'));
  it('puts the month first in the US', () =>
    expect(dayWords('2026-11-11', 'en-US')).toBe('Wednesday, November 11, 2026'));
  it('knows a leap day', () => expect(dayWords('2028-02-29', 'en-GB')).toBe('Tuesday 29 February 2028'));
  it('shows what is no day as it stands', () => expect(dayWords('soon', 'en-GB')).toBe('soon'));
});

describe('totals', () => {
  it('count groups with their extras', () => {
    expect(animalsOf(pick({ groups: 3, perGroup: { adults: 10, juveniles: 2, extras: 1 } }))).toBe(39);
    expect(totalsOf(order.picks)).toEqual({ cultures: 3, cups: 4, ordered: 336, extras: 3, animals: 339 });
  });
  it('count a culture once', () => expect(totalsOf([pick(), pick()]).cultures).toBe(1));
});

describe('limitsInWords', () => {
  const plain = (text: string) => text.replaceAll('\u00a0', ' ');
  it('says ideal, safe and deadly', () => {
    expect(plain(limitsInWords(scaber.limits, { units: 'metric', language: 'en', locale: 'en-GB' }))).toBe(
      'Ideal 18 to 25 °C. Safe 5 to 30 °C. Deadly below −2 °C and above 37 °C.',
    );
  });
  it('rounds every limit to its safe side', () => {
    const limits = { ...scaber.limits, lethalLowC: -2.2, safeLowC: 4.8, safeHighC: 30.3, lethalHighC: 37.3 };
    // -2.2 °C is 28.04 °F, 4.8 is 40.64, 30.3 is 86.54, 37.3 is 99.14
    expect(plain(limitsInWords(limits, { units: 'us', language: 'en', locale: 'en-US' }))).toContain(
      'Safe 41 to 86 °F. Deadly below 29 °F and above 99 °F.',
    );
  });
});

describe('the section', () => {
  const frustum = { shape: 'frustum', topDiameterMm: 120, bottomDiameterMm: 80, heightMm: 100 } as const;
  it('has one factor for both directions', () => {
    const pointsPerMm = scaleFor(frustum, 240, 150);
    expect(pointsPerMm).toBeCloseTo(1.5, 12);
    const section = sectionOf(frustum, pointsPerMm, 0, 0);
    expect(section.heightPt).toBeCloseTo(150, 9);
    expect(section.rightAt(0) - section.leftAt(0)).toBeCloseTo(180, 9);
    expect(section.rightAt(150) - section.leftAt(150)).toBeCloseTo(120, 9);
    expect(section.rightAt(75) - section.leftAt(75)).toBeCloseTo(150, 9);
  });
  it('stacks layers from the floor in their depths', () => {
    const section = sectionOf(frustum, 2, 0, 10);
    const [lower, upper] = layerAreas(section, [{ depthMm: 30 }, { depthMm: 10 }]);
    expect(lower).toMatchObject({ bottomPt: 210, topPt: 150 });
    expect(upper).toMatchObject({ bottomPt: 150, topPt: 130 });
  });
  it('never lets a layer rise above the rim', () => {
    const areas = layerAreas(sectionOf(frustum, 1, 0, 0), [{ depthMm: 80 }, { depthMm: 80 }]);
    expect(areas[1]?.topPt).toBe(0);
  });
  it('keeps the ink of a layer inside it, however thin the layer', () => {
    for (const depthMm of [1, 4, 12, 60]) {
      for (const name of ['Leaf litter', 'Moss', 'Clay pebbles', 'Rotten wood', 'Sand', 'Soil']) {
        const [area] = layerAreas(sectionOf(frustum, 1.5, 0, 0), [{ depthMm }]);
        const mark = textureMark(name, area!, 3);
        const points = mark.kind === 'curve' ? [...mark.d.matchAll(/[ML]([\d.-]+) ([\d.-]+)/g)] : [];
        expect(points.length).toBeGreaterThan(5);
        for (const [, , y] of points) {
          expect(Number(y)).toBeGreaterThanOrEqual(area!.topPt - 0.1);
          expect(Number(y)).toBeLessThanOrEqual(area!.bottomPt + 0.1);
        }
      }
    }
  });
});
