import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as units from '../../shared/settings/units.ts';

/** No-break spaces are shown as plain ones here so that the tables below can be read. */
const plain = (text: string) => text.replaceAll('\u00a0', ' ');

describe('conversion factors (NIST Handbook 44, Appendix C; NIST SP 811, Appendix B)', () => {
  it.each([
    ['1 in = 25.4 mm exactly', units.inchesToMillimetres(1), 25.4],
    ['1 US liquid quart = 0.946 352 946 L', units.quartsToLitres(1), 0.946352946],
    ['1 oz avoirdupois = 28.349 523 125 g exactly', units.ouncesToGrams(1), 28.349523125],
    ['water freezes at 32 °F', units.celsiusToFahrenheit(0), 32],
    ['water boils at 212 °F', units.celsiusToFahrenheit(100), 212],
    ['both scales meet at −40', units.celsiusToFahrenheit(-40), -40],
  ])('%s', (_name, ours, published) => expect(ours).toBeCloseTo(published, 12));

  it('come back to where they began', () => {
    fc.assert(
      fc.property(fc.double({ min: -60, max: 2000, noNaN: true }), (x) => {
        expect(units.fahrenheitToCelsius(units.celsiusToFahrenheit(x))).toBeCloseTo(x, 9);
        expect(units.inchesToMillimetres(units.millimetresToInches(x))).toBeCloseTo(x, 9);
        expect(units.quartsToLitres(units.litresToQuarts(x))).toBeCloseTo(x, 9);
        expect(units.ouncesToGrams(units.gramsToOunces(x))).toBeCloseTo(x, 9);
      }),
    );
  });
});

describe('formatTemp', () => {
  it.each([
    [25, 'metric', '25 °C'],
    [25, 'us', '77 °F'],
    [22.5, 'metric', '22.5 °C'],
    [22.3, 'metric', '22.5 °C'],
    [-4, 'metric', '−4 °C'],
    [-0.1, 'metric', '0 °C'],
    [-40, 'us', '−40 °F'],
  ] as const)('%s °C in %s is %s', (tempC, system, words) => {
    expect(plain(units.formatTemp(tempC, system))).toBe(words);
  });
  it('rounds a limit to its safe side only', () => {
    expect(plain(units.formatTemp(28.3, 'us', 'en-US', 'down'))).toBe('82 °F');
    expect(plain(units.formatTemp(28.3, 'us', 'en-US', 'up'))).toBe('83 °F');
    expect(plain(units.formatTemp(28.3, 'metric', 'en', 'down'))).toBe('28 °C');
  });
  it('leaves a limit that is whole in both systems alone', () => {
    for (let c = -40; c <= 60; c += 5) {
      expect(units.formatTemp(c, 'us', 'en', 'down')).toBe(units.formatTemp(c, 'us', 'en', 'up'));
    }
  });
  it('never promises more than a span holds', () => {
    expect(plain(units.formatTempRange(20, 26, 'us'))).toBe('68 to 78 °F');
    expect(plain(units.formatTempRange(20, 26, 'metric'))).toBe('20 to 26 °C');
  });
  it("uses the reader's decimal mark", () => {
    expect(plain(units.formatTemp(22.5, 'metric', 'de-DE'))).toBe('22,5 °C');
  });
});

describe('formatLength', () => {
  it.each([
    [5, 'metric', '5 mm'],
    [0.4, 'metric', '0.4 mm'],
    [9.7, 'metric', '1 cm'],
    [60, 'metric', '6 cm'],
    [123, 'metric', '12.3 cm'],
    [1234, 'metric', '123 cm'],
    [60, 'us', '2⅜ in'],
    [25.4, 'us', '1 in'],
    [12.7, 'us', '½ in'],
    [1, 'us', 'under ⅛ in'],
    [0, 'us', '0 in'],
    [400, 'us', '15¾ in'],
  ] as const)('%s mm in %s is %s', (lengthMm, system, words) => {
    expect(plain(units.formatLength(lengthMm, system))).toBe(words);
  });
});

describe('formatVolume', () => {
  it.each([
    [0.355, 'metric', '360 ml'],
    [0.0324, 'metric', '30 ml'],
    [0.0041, 'metric', '4 ml'],
    [0.996, 'metric', '1 L'],
    [2.44, 'metric', '2.4 L'],
    [33.3, 'metric', '33 L'],
    [0.355, 'us', '1½ cups'],
    [0.2366, 'us', '1 cup'],
    [0.12, 'us', '½ cup'],
    [0.93, 'us', '1 qt'],
    [2.37, 'us', '2½ qt'],
    [30, 'us', '32 qt'],
    [0.0296, 'us', '2 tbsp'],
    [0.005, 'us', '1 tsp'],
    [0.0004, 'us', 'under ¼ tsp'],
    [0, 'metric', '0 ml'],
  ] as const)('%s L in %s is %s', (litres, system, words) => {
    expect(plain(units.formatVolume(litres, system))).toBe(words);
  });
  it('is never further off than an eighth of its own measure', () => {
    const size: Record<string, number> = {
      qt: 0.946352946,
      cup: 0.2365882365,
      tbsp: 0.01478676478,
      tsp: 0.00492892159,
    };
    const marks: Record<string, number> = { '': 0, '¼': 0.25, '½': 0.5, '¾': 0.75 };
    fc.assert(
      fc.property(fc.double({ min: 0.002, max: 15, noNaN: true }), (litres) => {
        const [figure = '', unit = ''] = plain(units.formatVolume(litres, 'us')).split(' ');
        const [, whole = '', mark = ''] = /^(\d*)([¼½¾]?)$/.exec(figure) ?? [];
        const measure = size[unit.replace(/s$/, '')] ?? Number.NaN;
        const said = (Number(whole || 0) + (marks[mark] ?? Number.NaN)) * measure;
        expect(Math.abs(said - litres)).toBeLessThanOrEqual(measure * 0.1251);
      }),
    );
  });
});

describe('formatMass', () => {
  it.each([
    [250, 'metric', '250 g'],
    [3.26, 'metric', '3.3 g'],
    [1250, 'metric', '1.25 kg'],
    [999.7, 'metric', '1 kg'],
    [250, 'us', '8.8 oz'],
    [2, 'us', '0.07 oz'],
    [453.59237, 'us', '1 lb'],
    [1000, 'us', '2 lb 3 oz'],
  ] as const)('%s g in %s is %s', (massG, system, words) => {
    expect(plain(units.formatMass(massG, system))).toBe(words);
  });
});

describe('bad values', () => {
  it.each([Number.NaN, Number.POSITIVE_INFINITY])('%s is refused', (bad) => {
    expect(() => units.formatTemp(bad, 'metric')).toThrow(RangeError);
    expect(() => units.formatVolume(bad, 'metric')).toThrow(RangeError);
  });
  it('a negative length, volume or mass is refused', () => {
    expect(() => units.formatLength(-1, 'metric')).toThrow(RangeError);
    expect(() => units.formatVolume(-1, 'us')).toThrow(RangeError);
    expect(() => units.formatMass(-1, 'us')).toThrow(RangeError);
  });
});
