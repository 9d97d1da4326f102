import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Estimate, IntervalMark } from '../../views/layout/number.tsx';
import { renderPart } from '../../views/layout/render.ts';
import { formatEstimate, roundEstimate } from '../../views/layout/round-estimate.ts';

describe('roundEstimate', () => {
  it.each([
    [138.2, 104.1, 191.7, 'about 140 (105 to 190)'],
    [12, 12, 12, '12'],
    [0, 0, 0, '0'],
    [11.4, 7.9, 16.2, 'about 11 (8 to 16)'],
    [31.2, 24.8, 41.3, 'about 31 (25 to 41)'],
    [62.3, 40.2, 117.9, 'about 60 (40 to 120)'],
    [1234, 851, 1738, 'about 1,250 (850 to 1,750)'],
    [1234, 1053, 1452, 'about 1,230 (1,050 to 1,450)'],
    [700, 37, 9200, 'about 700 (37 to 9,000)'],
    [12, 11.6, 12.4, 'about 12'],
    [412, 412, 412, '412'],
  ])('%d (%d to %d) is %s', (median, lower, upper, words) => {
    expect(formatEstimate(median, lower, upper)).toBe(words);
  });

  it('writes numbers as the locale does', () => {
    expect(formatEstimate(1234, 851, 1738, 'de-DE')).toBe('about 1.250 (850 to 1.750)');
  });

  it('keeps the order, and moves no end by more than a twentieth of the width or half an animal', () => {
    const part = fc.double({ min: 0, max: 20_000, noNaN: true });
    fc.assert(
      fc.property(part, part, part, (...parts) => {
        const [lower, median, upper] = parts.sort((a, b) => a - b) as [number, number, number];
        const rounded = roundEstimate(median, lower, upper);
        expect(rounded.lower).toBeLessThanOrEqual(rounded.median);
        expect(rounded.median).toBeLessThanOrEqual(rounded.upper);
        const allowed = Math.max(0.5, (upper - lower) / 20) + 0.51;
        expect(Math.abs(rounded.lower - lower)).toBeLessThanOrEqual(allowed);
        expect(Math.abs(rounded.upper - upper)).toBeLessThanOrEqual(allowed);
        expect(Math.abs(rounded.median - median)).toBeLessThanOrEqual(allowed);
      }),
    );
  });

  it('refuses what is no number', () => {
    expect(() => roundEstimate(Number.NaN, 1, 2)).toThrow(RangeError);
    expect(() => roundEstimate(1, 0, Number.POSITIVE_INFINITY)).toThrow(RangeError);
  });
});

const text = (html: string) => html.replace(/<[^>]+>/g, '');

describe('Estimate', () => {
  it('says its doubt in one way', () => {
    const html = renderPart(
      <Estimate median={138.2} lower={104.1} upper={191.7} ageDays={12} unit="animals" />,
    );
    expect(text(html)).toBe('about 140 (105 to 190) animals');
    expect(html).not.toContain('estimate-stale');
  });

  it('fades and says its age when it is stale', () => {
    const html = renderPart(<Estimate median={138.2} lower={104.1} upper={191.7} ageDays={47} />);
    expect(html).toContain('estimate-stale');
    expect(text(html)).toBe('about 140 (105 to 190), counted 47 days ago');
  });

  it('is stale from four weeks on', () => {
    const at = (ageDays: number) => renderPart(<Estimate median={9} lower={9} upper={9} ageDays={ageDays} />);
    expect(at(27)).not.toContain('counted');
    expect(at(28)).toContain('counted 28 days ago');
  });
});

describe('IntervalMark', () => {
  it('is drawn to scale: half of the largest number stands in the middle', () => {
    const html = renderPart(<IntervalMark lower={0} median={50} upper={100} max={100} reserve={25} />);
    expect(html).toContain('class="mark-middle" x1="80" x2="80"');
    expect(html).toContain('class="mark-interval" x1="4" x2="156"');
    expect(html).toContain('class="mark-reserve" d="M42 ');
    expect(html).toContain('aria-hidden="true"');
  });

  it('can speak for itself, and never leaves its frame', () => {
    const html = renderPart(<IntervalMark lower={5} median={50} upper={500} max={100} label="about 50" />);
    expect(html).toContain('role="img" aria-label="about 50"');
    expect(html).toContain('x2="156"');
  });
});
