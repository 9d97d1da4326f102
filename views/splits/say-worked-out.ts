import { needWords, safeStart as safeStartChance } from '../../shared/splits/safe-start.ts';
import { formatNumber, formatPercent } from '../layout/format.ts';
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
      `Of ${number(safeStart.animals)} animals, each female with a chance of ${formatPercent(needs.femaleShare, furniture.locale)}, ${needWords(needs)} are there with a chance of ${formatPercent(safeStart.probability, furniture.locale, 1)}; with one animal fewer it is below ${formatPercent(safeStartChance, furniture.locale)}.`,
  ];
}
