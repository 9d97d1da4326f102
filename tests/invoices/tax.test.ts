import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dueOn, keptUntil, numberWords, settle } from '../../shared/invoices/settlement.ts';
import {
  type Rate,
  readRate,
  shareByKind,
  takenBack,
  taxesOf,
  thousandthsOfAll,
  writeRate,
} from '../../shared/invoices/tax.ts';

const rate = (percent: string, mode: Rate['mode'], onGoods = true, onCarriage = true): Rate => ({
  rateThousandths: readRate(percent) ?? -1,
  mode,
  onGoods,
  onCarriage,
});

const said = (amounts: { goods: number; carriage: number }, rates: Rate[]) => {
  const { netMinor, taxMinor, totalMinor, taxes } = taxesOf(amounts, rates);
  return [netMinor, taxMinor, totalMinor, ...taxes.map((line) => line.taxMinor)];
};

const one = fc.record({
  rateThousandths: fc.integer({ min: 0, max: thousandthsOfAll }),
  mode: fc.constantFrom('included' as const, 'added' as const),
  onGoods: fc.boolean(),
  onCarriage: fc.boolean(),
});
const amount = fc.oneof(fc.integer({ min: 0, max: 300 }), fc.integer({ min: 0, max: 1_000_000_000_000 }));
const sums = fc.record({ goods: amount, carriage: amount });

// A million by `npm run prove -- baskets`.
const baskets = Number(process.env.BASKETS ?? 100_000);

describe('taxes of an invoice', () => {
  it('have worked examples', () => {
    expect(said({ goods: 11_900, carriage: 0 }, [rate('19', 'included')])).toEqual([
      10_000, 1900, 11_900, 1900,
    ]);
    // 8.875 % of 10.00 is 0.8875
    expect(said({ goods: 1000, carriage: 500 }, [rate('8.875', 'added', true, false)])).toEqual([
      1500, 89, 1589, 89,
    ]);
    // two taxes on one price without taxes, as where a federal and a provincial one stand side by side
    expect(said({ goods: 10_000, carriage: 0 }, [rate('5', 'added'), rate('9.975', 'added')])).toEqual([
      10_000, 1498, 11_498, 500, 998,
    ]);
    // goods at 7 %, carriage at 19 %, both in the price: 7.00 of 107.00 and 0.95 of 5.95
    expect(
      said({ goods: 10_700, carriage: 595 }, [
        rate('7', 'included', true, false),
        rate('19', 'included', false, true),
      ]),
    ).toEqual([10_500, 795, 11_295, 700, 95]);
    expect(said({ goods: 1250, carriage: 0 }, [])).toEqual([1250, 0, 1250]);
    expect(said({ goods: 0, carriage: 0 }, [rate('19', 'added')])).toEqual([0, 0, 0, 0]);
  });

  it('are rounded half up, once for each rate (EN 16931-1:2017, BR-CO-17; its artefacts use XPath fn:round)', () => {
    expect(said({ goods: 50, carriage: 0 }, [rate('1', 'added')])).toEqual([50, 1, 51, 1]); // 0.5 goes up
    expect(said({ goods: 250, carriage: 0 }, [rate('1', 'added')])).toEqual([250, 3, 253, 3]); // 2.5 goes up, not to even
    expect(said({ goods: 49, carriage: 0 }, [rate('1', 'added')])).toEqual([49, 0, 49, 0]);
    // line by line 0.30 and 0.30 would both vanish; together they are 0.60
    expect(said({ goods: 30, carriage: 30 }, [rate('1', 'added')])).toEqual([60, 1, 61, 1]);
  });

  it('always add up, and each is the nearest minor unit, against whole numbers of any size', () => {
    fc.assert(
      fc.property(sums, fc.array(one, { maxLength: 4 }), (amounts, rates) => {
        const { taxes, netMinor, taxMinor, totalMinor } = taxesOf(amounts, rates);
        const lines = BigInt(amounts.goods) + BigInt(amounts.carriage);
        const added = taxes.filter(({ mode }) => mode === 'added');
        const sum = (all: readonly { taxMinor: number }[]) =>
          all.reduce((total, line) => total + BigInt(line.taxMinor), 0n);
        expect(BigInt(netMinor) + BigInt(taxMinor)).toBe(BigInt(totalMinor));
        expect(sum(taxes)).toBe(BigInt(taxMinor));
        expect(BigInt(totalMinor)).toBe(lines + sum(added));
        expect(Math.min(netMinor, ...taxes.map((line) => line.taxMinor))).toBeGreaterThanOrEqual(0);
        for (const line of added) {
          // |tax - base x rate| is at most a half, and the half went up
          const off =
            BigInt(line.taxMinor) * 100_000n - BigInt(line.baseMinor) * BigInt(line.rateThousandths);
          expect(2n * off > -100_000n && 2n * off <= 100_000n).toBe(true);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('that a price holds give that price again, and are the nearest to rate / (100 % + rate)', () => {
    fc.assert(
      fc.property(amount, fc.integer({ min: 0, max: thousandthsOfAll }), (goods, rateThousandths) => {
        const held: Rate = { rateThousandths, mode: 'included', onGoods: true, onCarriage: true };
        const { taxMinor, totalMinor } = taxesOf({ goods, carriage: 0 }, [held]);
        expect(totalMinor).toBe(goods);
        const bottom = 100_000n + BigInt(rateThousandths);
        const off = BigInt(taxMinor) * bottom - BigInt(goods) * BigInt(rateThousandths);
        expect(2n * off > -bottom && 2n * off <= bottom).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  it('are exact for baskets by the hundred thousand', () => {
    let seed = 20_261_125;
    const draw = (upTo: number) => {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
      return Math.floor((seed / 2 ** 32) * (upTo + 1));
    };
    for (let basket = 0; basket < baskets; basket += 1) {
      const amounts = { goods: draw(2_000_000_000), carriage: draw(100_000) };
      const rates: Rate[] = [
        { rateThousandths: draw(30_000), mode: 'included', onGoods: true, onCarriage: draw(1) === 1 },
        { rateThousandths: draw(30_000), mode: 'added', onGoods: draw(1) === 1, onCarriage: true },
      ];
      const { taxes, netMinor, taxMinor, totalMinor } = taxesOf(amounts, rates);
      const added = taxes[1]?.taxMinor ?? 0;
      if (netMinor + taxMinor !== totalMinor || totalMinor !== amounts.goods + amounts.carriage + added)
        throw new Error(JSON.stringify({ amounts, rates }));
    }
  });

  it('refuse what is no amount and no rate', () => {
    for (const goods of [0.1 + 0.2, -1, -0, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53])
      expect(() => taxesOf({ goods, carriage: 0 }, []), String(goods)).toThrow(RangeError);
    for (const rateThousandths of [-1, 0.5, 100_001, Number.NaN])
      expect(
        () =>
          taxesOf({ goods: 1, carriage: 0 }, [
            { rateThousandths, mode: 'included', onGoods: true, onCarriage: true },
          ]),
        String(rateThousandths),
      ).toThrow(RangeError);
    const most = Number.MAX_SAFE_INTEGER;
    expect(() => taxesOf({ goods: most, carriage: most }, [])).toThrow(RangeError);
  });
});

describe('what is given back', () => {
  it('holds its taxes, and is never more than the kind of line cost', () => {
    const added = [rate('10', 'added')];
    expect(shareByKind({ goods: 1000, carriage: 500 }, added)).toEqual({ goods: 1100, carriage: 550 });
    expect(takenBack({ goods: 1100, carriage: 0 }, added)).toMatchObject({ netMinor: 1000, taxMinor: 100 });
    fc.assert(
      fc.property(sums, fc.array(one, { maxLength: 3 }), (amounts, rates) => {
        const { goods, carriage } = shareByKind(amounts, rates);
        expect(goods + carriage).toBe(taxesOf(amounts, rates).totalMinor);
        expect(Math.min(goods, carriage)).toBeGreaterThanOrEqual(0);
        const back = takenBack({ goods, carriage }, rates);
        expect(back.totalMinor).toBe(goods + carriage);
      }),
      { numRuns: 200 },
    );
  });
});

describe('rates as they are typed', () => {
  it('are exact to a thousandth of a percent', () => {
    expect(['19', '8,875', '8.875 %', '0', '100', '7.5%'].map(readRate)).toEqual([
      19_000, 8875, 8875, 0, 100_000, 7500,
    ]);
    expect(['', '-1', '100.001', '1.2345', 'ten', '1e2', '1000'].map(readRate)).toEqual(Array(7).fill(null));
    expect([19_000, 8875, 0, 100, 100_000].map(writeRate)).toEqual(['19', '8.875', '0', '0.1', '100']);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: thousandthsOfAll }), (value) => {
        expect(readRate(writeRate(value))).toBe(value);
      }),
    );
  });
});

describe('settling', () => {
  it('tells what is open, and what is too much', () => {
    expect(settle(5000, [])).toEqual({ paidMinor: 0, openMinor: 5000, overMinor: 0 });
    expect(
      settle(5000, [
        { kind: 'payment', amountMinor: 6000 },
        { kind: 'refund', amountMinor: 500 },
      ]),
    ).toEqual({ paidMinor: 5500, openMinor: 0, overMinor: 500 });
    expect(settle(0, [{ kind: 'payment', amountMinor: 1 }]).overMinor).toBe(1);
    expect(() => settle(0.5, [])).toThrow(RangeError);
  });

  it('knows the days and the numbers', () => {
    expect(dueOn('2026-11-25', 14)).toBe('2026-12-09');
    expect(keptUntil('2026-03-01', 10)).toBe('2036-12-31');
    expect(numberWords('RE-', 7)).toBe('RE-0007');
    expect(numberWords('', 12_345)).toBe('12345');
  });
});
