import { describe, expect, it } from 'vitest';
import {
  countForms,
  fieldOfFault,
  readRoughCount,
  readSearchedShare,
} from '../../shared/counts/page-form.ts';

describe('a count as people put it', () => {
  it.each([
    ['40', 40, null],
    [' 0 ', 0, null],
    ['none', 0, 'none'],
    ['about 40', 40, 'about 40'],
    ['~40', 40, '~40'],
    ['40+', 40, '40+'],
    ['40-50', 45, '40-50'],
    ['2 dozen', 24, '2 dozen'],
    ['1,200', 1200, null],
    ['1.200', 1200, null],
    ['1 200', 1200, null],
  ])('%j is %d', (text, counted, wording) => {
    expect(readRoughCount(text)).toEqual({ counted, wording });
  });

  it.each([
    '',
    'many',
    '-4',
    '1.5',
    '1,5',
    'NaN',
    'Infinity',
    '1e9',
    '99999999999',
    `about 40 ${'x'.repeat(90)}`,
    '<b>4</b>',
  ])('%j is no count', (text) => {
    expect(readRoughCount(text)).toBeNull();
  });
});

describe('how much was searched', () => {
  it.each([
    ['20 %', 0.2],
    ['20%', 0.2],
    ['20', 0.2],
    ['12,5 percent', 0.125],
    ['0.5 %', 0.005],
    ['1 of 5', 0.2],
    ['1/5', 0.2],
    ['2 out of 3', 2 / 3],
    ['½', 0.5],
    ['100', 1],
    ['3 of 3 parts', 1],
  ])('%j is %d', (text, share) => {
    expect(readSearchedShare(text)).toBeCloseTo(share, 12);
  });

  it.each(['', '0', '0 %', '1', '0.2', '101', '6 of 5', '0 of 5', '1 of 0', 'half', '-20 %', '20 % of 5'])(
    '%j is neither a percentage nor parts',
    (text) => {
      expect(readSearchedShare(text)).toBeNull();
    },
  );
});

describe('the forms of the methods', () => {
  it('leave out catches that were not made, wherever they stand', () => {
    const read = countForms.removal.parse({ catch1: '20', catch3: '9' });
    expect([read.catch1, read.catch2, read.catch3]).toEqual([20, undefined, 9]);
  });

  it('put every fault of the calculation beside a field they have', () => {
    for (const [method, form] of Object.entries(countForms))
      for (const path of [
        'counted',
        'catches',
        'catches[1]',
        'recaptured',
        'detection.alpha',
        'fraction',
        'estimator',
        'x',
      ])
        expect(Object.keys(form.shape)).toContain(fieldOfFault(method as keyof typeof countForms, path));
  });
});
