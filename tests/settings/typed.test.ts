import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { minorDigits } from '../../shared/settings/typed-money.ts';
import { readTyped, typedNumber } from '../../shared/settings/typed-number.ts';
import { type FieldUnit, shownInField, storedFromField } from '../../shared/settings/typed-units.ts';

describe('a number as people type it', () => {
  it.each([
    ['12', 12],
    [' 0.5 ', 0.5],
    ['2,5', 2.5],
    ['-3', -3],
    ['−3', -3],
    ['1 250', 1250],
    ['1\u00a0250,5', 1250.5],
    ['2 3/8', 2.375],
    ['2⅜', 2.375],
    ['2 ½', 2.5],
    ['3/4', 0.75],
    ['¾', 0.75],
    ['.5', 0.5],
  ])('%s is %d', (text, value) => {
    expect(readTyped(text)).toBe(value);
  });

  it.each(['', 'a dozen', '1,234', '1.2.3', '1e9', '0x10', 'Infinity', '1/0', '5 6', '--1'])(
    '%s is no number, or more than one',
    (text) => {
      expect(readTyped(text)).toBeNull();
    },
  );

  // A pattern that tries each figure before and after the point would take hours for this.
  it('is no number when a million figures end in a letter', () => {
    expect(readTyped(`${'1'.repeat(1_000_000)}x`)).toBeNull();
    expect(readTyped(`${'1'.repeat(1_000_000)}.${'1'.repeat(1_000_000)}x`)).toBeNull();
  });

  it('says in words what is wrong', () => {
    const field = typedNumber({ min: 1, max: 365, whole: true });
    const message = (text: unknown) => field.safeParse(text).error?.issues[0]?.message;
    expect(message(undefined)).toBe('Fill this in.');
    expect(message('often')).toBe('Write a whole number, such as 12.');
    expect(message('1.5')).toBe('Write a whole number, such as 12.');
    expect(message('0')).toBe('Must be between 1 and 365.');
    expect(field.parse('7')).toBe(7);
  });
});

describe('a stored value in a field', () => {
  it('is shown in the unit of the field and stored metric', () => {
    expect(shownInField(26, '°F')).toBe('78.8');
    expect(storedFromField(80, '°F')).toBeCloseTo(26.6667, 4);
    expect(shownInField(60, 'in')).toBe('2.362');
    expect(storedFromField(2.375, 'in')).toBeCloseTo(60.325, 10);
    expect(storedFromField(12, 'cm')).toBe(120);
    // A quart is 0.946 of a litre, so it holds fewer.
    expect(shownInField(20, 'a quart')).toBe('18.93');
    expect(shownInField(-0.001, 'mm')).toBe('0');
  });

  it('does not drift, however often it is saved unchanged', () => {
    const units: FieldUnit[] = ['°C', '°F', 'mm', 'cm', 'in', 'a litre', 'a quart'];
    fc.assert(
      fc.property(
        fc.double({ min: -50, max: 5000, noNaN: true }),
        fc.constantFrom(...units),
        (value, unit) => {
          const typed = readTyped(shownInField(value, unit));
          expect(typed === null ? null : storedFromField(typed, unit, value)).toBe(value);
        },
      ),
    );
  });
});

describe('the minor unit of a currency', () => {
  it.each([
    ['EUR', 2],
    ['JPY', 0],
    ['KWD', 3],
  ])('%s has %d digits (ISO 4217)', (currency, digits) => {
    expect(minorDigits(currency)).toBe(digits);
  });
});
