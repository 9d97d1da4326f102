import { describe, expect, test } from 'vitest';
import { calculations } from '../../shared/calculations.ts';
import type { CountEstimate } from '../../shared/counts/count.ts';
import {
  catchability,
  removalLogLikelihood,
  sumCatches,
  zippinStandardError,
} from '../../shared/counts/removal.ts';
import { expectRow, row, titleOf } from './rows.ts';

/** Through the same door as the command line. */
function ask(input: object): CountEstimate {
  const outcome = calculations.count?.run(input);
  if (!outcome?.ok) throw new Error(JSON.stringify(outcome?.faults));
  return outcome.result as CountEstimate;
}

function refuses(input: object): string {
  const outcome = calculations.count?.run(input);
  if (outcome === undefined || outcome.ok) throw new Error('was not refused');
  return outcome.faults.map(({ path, message }) => `${path}: ${message}`).join('\n');
}

function recapture(id: string, estimator: 'chapman' | 'petersen'): object {
  const { M, n, m } = row(id).inputs;
  return { method: 'mark-recapture', marked: M, caught: n, recaptured: m, estimator, level: 0.95 };
}

const catchesOf = (id: string): number[] => row(id).inputs.catch as number[];

function removal(id: string, estimator: string): CountEstimate {
  return ask({ method: 'removal', catches: catchesOf(id), estimator });
}

/** The share caught per pass that goes with an estimate. */
const shareCaught = (id: string, n: number): number => catchability(sumCatches(catchesOf(id)), n);

describe('mark and recapture', () => {
  const krebs = 'a01-petersen-krebs';
  test(titleOf(krebs), () => {
    const count = ask(recapture(krebs, 'petersen'));
    expectRow(krebs, count.estimate, 'N');
    expectRow(krebs, count.lower, 'lcl95');
  });

  test.each(['a02-chapman-krebs', 'a03-chapman-ricker'])('%s', (id) => {
    expectRow(id, ask(recapture(id, 'chapman')).estimate, 'N');
  });

  const seber = 'a04-chapman-seber-3.7';
  test(titleOf(seber), () => {
    const count = ask(recapture(seber, 'chapman'));
    expectRow(seber, count.estimate, 'N');
    expectRow(seber, count.standardError, 'se');
    expectRow(seber, count.upper, 'ucl95');
  });

  const none = 'a07-zero-recaptures';
  test(titleOf(none), () => {
    expectRow(none, ask(recapture(none, 'chapman')).estimate, 'chapman');
    expect(refuses(recapture(none, 'petersen'))).toMatch(/^recaptured: must be more than 0 for petersen/);
  });
});

describe('removal', () => {
  test.each(['b01-carlestrub-ex1', 'b02-carlestrub-cowx5'])('%s', (id) => {
    const count = removal(id, 'carle-strub');
    expectRow(id, count.estimate, 'N');
    expectRow(id, shareCaught(id, count.estimate), 'p');
    if (id === 'b01-carlestrub-ex1') expectRow(id, count.standardError, 'se');
  });

  const twoPass = 'b04-seber2-cowx';
  test(titleOf(twoPass), () => {
    const count = removal(twoPass, 'seber-two-pass');
    const [first, second] = catchesOf(twoPass) as [number, number];
    expectRow(twoPass, count.estimate, 'N');
    expectRow(twoPass, count.standardError, 'se');
    // The two-pass estimate is the share caught at which c1 = p N.
    expectRow(twoPass, first / count.estimate, 'p');
    expect(first / count.estimate).toBeCloseTo(1 - second / first, 12);
  });

  const whole = 'b05-burnham-vandeventer';
  test(`${titleOf(whole)} (the likelihood at whole numbers)`, () => {
    const catches = sumCatches(catchesOf(whole));
    const candidates = Array.from({ length: 400 }, (_, i) => catches.total + i);
    const best = candidates.reduce((a, b) =>
      removalLogLikelihood(catches, b) > removalLogLikelihood(catches, a) ? b : a,
    );
    expectRow(whole, best, 'N');
    expectRow(whole, catchability(catches, best), 'p');
    expectRow(whole, zippinStandardError(best, catchability(catches, best), catches.passes), 'se');
    expect(Math.abs(removal(whole, 'zippin').estimate - best)).toBeLessThan(1);
  });

  test.each([
    'b06-zippin-moran-schnute-s1',
    'b07-zippin-moran-schnute-s2',
    'b08-zippin-moran-schnute-s4',
    'b09-zippin-moran-schnute-s7',
    'b10-zippin-moran-schnute-s8',
    'b11-zippin-moran-schnute-s12',
    'b12-zippin-1958',
  ])('%s', (id) => {
    const count = removal(id, 'zippin');
    expectRow(id, count.estimate, 'N');
    expectRow(id, shareCaught(id, count.estimate), 'p');
  });

  const rising = 'b13-no-depletion-2pass';
  test(titleOf(rising), () => {
    const input = { method: 'removal', catches: catchesOf(rising), estimator: 'seber-two-pass' };
    expect(refuses(input)).toMatch(/^catches: do not decline/);
  });
});
