/** What an invoice's line is for; taxes say which of the two they are on. */
export const lineKinds = ['goods', 'carriage'] as const;
export type LineKind = (typeof lineKinds)[number];

/** Whether the prices already hold a tax, or it comes on top of them. */
export const taxModes = ['included', 'added'] as const;
export type TaxMode = (typeof taxModes)[number];

/** A rate is kept in thousandths of a percent, so that 8.875 % is the whole number 8875. */
export const thousandthsOfAll = 100_000;

export type Rate = { rateThousandths: number; mode: TaxMode; onGoods: boolean; onCarriage: boolean };

/** Sums of an invoice's lines in minor units, by what they are for. */
export type Amounts = Record<LineKind, number>;

export type TaxLine<R extends Rate> = R & { baseMinor: number; taxMinor: number };

export type Taxed<R extends Rate> = {
  taxes: TaxLine<R>[];
  /** Without any tax, the taxes, and both together. */
  netMinor: number;
  taxMinor: number;
  totalMinor: number;
};

const isOn = (rate: Rate, kind: LineKind) => (kind === 'goods' ? rate.onGoods : rate.onCarriage);

/** The nearest whole number to a fraction that is not below zero; a half goes up. */
const halfUp = (top: bigint, bottom: bigint): bigint => (2n * top + bottom) / (2n * bottom);

const smaller = (one: bigint, other: bigint) => (one > other ? other : one);

function whole(value: number): bigint {
  if (!Number.isSafeInteger(value) || value < 0 || Object.is(value, -0))
    throw new RangeError(`not an amount in whole minor units: ${value}`);
  return BigInt(value);
}

function rateOf({ rateThousandths }: Rate): bigint {
  if (!Number.isInteger(rateThousandths) || rateThousandths < 0 || rateThousandths > thousandthsOfAll)
    throw new RangeError(`not a rate in thousandths of a percent: ${rateThousandths}`);
  return BigInt(rateThousandths);
}

function exact(value: bigint): number {
  if (value > BigInt(Number.MAX_SAFE_INTEGER)) throw new RangeError('the amounts are too large to add up');
  return Number(value);
}

/** The taxes that a price of one kind already holds, by the rates' places, and what is left of it without them. */
function takenOut(amount: bigint, kind: LineKind, rates: readonly Rate[]): { taxes: bigint[]; net: bigint } {
  const held = rates.map((rate) => (rate.mode === 'included' && isOn(rate, kind) ? rateOf(rate) : 0n));
  const bottom = BigInt(thousandthsOfAll) + held.reduce((sum, rate) => sum + rate, 0n);
  let net = amount;
  const taxes = held.map((rate) => {
    // Halves of several rates that all go up could together exceed the price itself.
    const taken = smaller(halfUp(amount * rate, bottom), net);
    net -= taken;
    return taken;
  });
  return { taxes, net };
}

/**
 * What an invoice's lines come to with their taxes. Amounts are whole minor units and never below zero; a RangeError
 * where one is not. Taxes are worked out once for each rate over the sum of its lines, not line by line, and rounded half
 * up to the minor unit (EN 16931-1:2017, BR-CO-17: category tax = taxable amount x rate, rounded to two decimals; its
 * validation artefacts round half up). A tax that the prices hold is taken out of them by rate / (100 % + all rates they
 * hold), so that the total is the price that was named; one that is added comes on the sum without taxes. Always
 * net + taxes = total, and total = lines + added taxes.
 *
 * @example taxesOf({ goods: 11900, carriage: 0 }, [{ rateThousandths: 19000, mode: 'included', onGoods: true, onCarriage: true }])
 * // net 10000, tax 1900, total 11900
 * @example taxesOf({ goods: 1000, carriage: 500 }, [{ rateThousandths: 8875, mode: 'added', onGoods: true, onCarriage: false }])
 * // net 1500, tax 89 (8.875 % of 10.00 is 0.8875), total 1589
 */
export function taxesOf<R extends Rate>(amounts: Amounts, rates: readonly R[]): Taxed<R> {
  const parts = lineKinds.map((kind) => ({ kind, ...takenOut(whole(amounts[kind]), kind, rates) }));
  const taxes = rates.map((rate, place) => {
    const on = parts.filter(({ kind }) => isOn(rate, kind));
    const base = on.reduce((sum, part) => sum + part.net, 0n);
    const tax =
      rate.mode === 'added'
        ? halfUp(base * rateOf(rate), BigInt(thousandthsOfAll))
        : on.reduce((sum, part) => sum + (part.taxes[place] ?? 0n), 0n);
    return { ...rate, baseMinor: exact(base), taxMinor: exact(tax) };
  });
  const net = parts.reduce((sum, part) => sum + part.net, 0n);
  const tax = taxes.reduce((sum, line) => sum + BigInt(line.taxMinor), 0n);
  return { taxes, netMinor: exact(net), taxMinor: exact(tax), totalMinor: exact(net + tax) };
}

/**
 * How much of an invoice's total each kind of line makes, taxes and all: what can be given back of it at most.
 *
 * @example shareByKind({ goods: 1000, carriage: 500 }, [{ rateThousandths: 10000, mode: 'added', onGoods: true, onCarriage: true }])
 * // { goods: 1100, carriage: 550 }
 */
export function shareByKind(amounts: Amounts, rates: readonly Rate[]): Amounts {
  const { totalMinor } = taxesOf(amounts, rates);
  const goods = Math.min(totalMinor, taxesOf({ ...amounts, carriage: 0 }, rates).totalMinor);
  return { goods, carriage: totalMinor - goods };
}

/**
 * The taxes in an amount that is given back: what is typed is what the customer gets, so each rate counts as held in it.
 * Each amount is rounded by itself: those of several add up to the invoice's taxes but for a minor unit or so.
 *
 * @example takenBack({ goods: 1100, carriage: 0 }, [{ rateThousandths: 10000, mode: 'added', onGoods: true, onCarriage: true }])
 * // net 1000, tax 100, total 1100
 */
export const takenBack = <R extends Rate>(amounts: Amounts, rates: readonly R[]) =>
  taxesOf(
    amounts,
    rates.map((rate) => ({ ...rate, mode: 'included' as const })),
  );

/**
 * Reads a rate in percent as people type it, with up to three figures after the point, into thousandths of a percent;
 * null for what is none or above 100 %.
 *
 * @example readRate('8,875') // 8875
 */
export function readRate(text: string): number | null {
  const match = /^(\d{1,3})(?:[.,](\d{0,3}))?\s*%?$/.exec(text.trim());
  if (!match) return null;
  const rate = Number(match[1]) * 1000 + Number((match[2] ?? '').padEnd(3, '0'));
  return rate > thousandthsOfAll ? null : rate;
}

/**
 * A rate as its field shows it.
 *
 * @example writeRate(8875) // '8.875'
 * @example writeRate(19000) // '19'
 */
export function writeRate(rateThousandths: number): string {
  const places = String(rateThousandths % 1000)
    .padStart(3, '0')
    .replace(/0+$/, '');
  const percent = String(Math.floor(rateThousandths / 1000));
  return places === '' ? percent : `${percent}.${places}`;
}
