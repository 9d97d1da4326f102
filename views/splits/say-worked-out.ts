import { needWords } from '../../shared/splits/safe-start.ts';
import { formatNumber } from '../layout/format.ts';
import type { SplitPageProps } from './page-split.tsx';

/** How much a start needs, and what can go, step by step. */
export function saySplit(
  props: Pick<
    SplitPageProps,
    'needs' | 'safeStart' | 'reserve' | 'promised' | 'promisable' | 'free' | 'furniture'
  >,
): (string | null)[] {
  const { needs, safeStart, reserve, promised, promisable, free, furniture } = props;
  const number = (value: number, digits = 0) => formatNumber(value, furniture.locale, digits);
  return [
    reserve === null || promisable === null || free === null
      ? null
      : `${number(promisable)} can go while ${number(Math.ceil(reserve))} stay; ${number(promisable)} − ${number(promised)} promised = ${number(free)}.`,
    safeStart &&
      `Of ${number(safeStart.animals)} animals, each female with a chance of ${number(needs.femaleShare * 100)} %, ${needWords(needs)} are there with a chance of ${number(safeStart.probability * 100, 1)} %; with one animal fewer it is below 95 %.`,
  ];
}
