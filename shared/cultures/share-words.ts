/**
 * A chance or share as a percentage, never rounded up to a certainty it is not. Number and sign are joined by a
 * no-break space (U+00A0).
 *
 * @example formatShare(0.996) // '99 %'
 * @example formatShare(0.004) // 'less than 1 %'
 */
export function formatShare(share: number): string {
  if (share <= 0) return '0\u00a0%';
  const percent = Math.floor(share * 100 + 1e-9);
  return percent < 1 ? 'less than 1\u00a0%' : `${percent}\u00a0%`;
}
