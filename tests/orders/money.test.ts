import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lineTotal, moneyField, orderTotal, readMoney, writeMoney } from '../../shared/orders/money.ts';

const minor = (text: string, digits = 2) => {
  const read = readMoney(text, digits);
  return read.ok ? read.minor : read.error;
};

// A million by `npm run prove -- baskets`.
const baskets = Number(process.env.BASKETS ?? 100_000);

describe('reading an amount', () => {
  it('takes a point or a comma, exactly', () => {
    expect(minor('12.50')).toBe(1250);
    expect(minor('12,50')).toBe(1250);
    expect(minor(' 12,5 ')).toBe(1250);
    expect(minor('12')).toBe(1200);
    expect(minor('12.')).toBe(1200);
    expect(minor('0.29')).toBe(29); // 0.29 * 100 is 28.999999999999996 in binary floating point
    expect(minor('4.35')).toBe(435);
    expect(minor('007.10')).toBe(710);
    expect(minor('0')).toBe(0);
    expect(minor('1 250,50')).toBe(125_050);
    expect(minor('1\u202f250')).toBe(125_000);
  });

  it('knows currencies with other minor units (ISO 4217: JPY has none, BHD has three)', () => {
    expect(minor('1250', 0)).toBe(1250);
    expect(minor('12.5', 0)).toMatch(/no smaller unit/);
    expect(minor('12.', 0)).toMatch(/no smaller unit/);
    expect(minor('1.234', 3)).toBe(1234);
    expect(moneyField('JPY').parse('1250')).toBe(1250);
    expect(moneyField('BHD').parse('1.234')).toBe(1234);
  });

  it('refuses what could mean two things, and says how to mend it', () => {
    expect(minor('1,250')).toBe('Write thousands without a mark between them, such as 1250.');
    expect(minor('1.250,00')).toBe('Write thousands without a mark between them, such as 1250.');
    expect(minor("1'250")).toBe('Write thousands without a mark between them, such as 1250.');
    expect(minor('12.505')).toBe('Write thousands without a mark between them, such as 1250.');
    expect(minor('1234.505')).toBe('Write at most 2 figures after the point, such as 12.50.');
    expect(minor('-3')).toBe('An amount cannot be below zero.');
    expect(minor('\u22123')).toBe('An amount cannot be below zero.');
    for (const text of [
      '',
      '€12',
      '12 EUR',
      'twelve',
      'NaN',
      'Infinity',
      '1e3',
      '0x10',
      '.',
      ',5',
      '1..2',
      '１２',
    ])
      expect(minor(text), text).toMatch(/^Write an amount, such as 12\.50/);
    expect(minor('99999999999999999999')).toMatch(/at most 10000000\.00/);
    expect(minor('10000000.01')).toMatch(/at most/);
    expect(minor('10000000')).toBe(1_000_000_000);
  });

  it('reads back what it writes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), fc.constantFrom(0, 2, 3), (amount, digits) => {
        expect(readMoney(writeMoney(amount, digits), digits)).toEqual({ ok: true, minor: amount });
      }),
    );
  });
});

describe('totals', () => {
  it('has worked examples', () => {
    expect(lineTotal({ groups: 3, priceMinor: 1250 })).toBe(3750);
    expect(
      orderTotal(
        [
          { groups: 3, priceMinor: 1250 },
          { groups: 1, priceMinor: 990 },
        ],
        495,
      ),
    ).toBe(5235);
    expect(orderTotal([], 0)).toBe(0);
  });

  it('is exact for baskets by the hundred thousand, against whole numbers of any size', () => {
    let seed = 20_261_125;
    const draw = (upTo: number) => {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
      return Math.floor((seed / 2 ** 32) * (upTo + 1));
    };
    for (let basket = 0; basket < baskets; basket++) {
      const lines = Array.from({ length: 1 + draw(5) }, () => ({
        groups: 1 + draw(999),
        priceMinor: draw(1_000_000_000),
      }));
      const postage = draw(1_000_000_000);
      let truth = BigInt(postage);
      for (const line of lines) truth += BigInt(line.groups) * BigInt(line.priceMinor);
      if (BigInt(orderTotal(lines, postage)) !== truth) throw new Error(JSON.stringify({ lines, postage }));
    }
  });

  it('refuses what is no whole amount', () => {
    for (const priceMinor of [0.1 + 0.2, 1.5, -1, -0, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53])
      expect(() => lineTotal({ groups: 1, priceMinor }), String(priceMinor)).toThrow(RangeError);
    expect(() => lineTotal({ groups: 1000, priceMinor: Number.MAX_SAFE_INTEGER })).toThrow(RangeError);
  });
});
