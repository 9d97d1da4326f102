import { formatCount, formatNumber } from '../layout/format.ts';

/** Whether nothing better can be found; if not, how much better it could be at most. */
export type Verdict = {
  optimal: boolean;
  gap: { groups: number; cultures: number; shareLeft: number };
};

/** How good a proposal is, in words. */
export function verdictWords({ optimal, gap }: Verdict, locale?: string): string {
  if (optimal)
    return 'No better way can be found: it fills the most groups, takes them from the fewest cultures, and leaves the most even rest.';
  const parts: string[] = [];
  if (gap.groups > 0) parts.push(`${formatCount(gap.groups, 'more group')} might be filled`);
  if (gap.cultures > 0) parts.push(`${formatCount(gap.cultures, 'culture')} fewer might do`);
  if (gap.shareLeft > 0)
    parts.push(
      `the smallest rest in a culture might be larger, by up to ${formatNumber(Math.ceil(gap.shareLeft * 100), locale)} in 100 of what it can spare`,
    );
  return `A good way, but the time was over before it was certain that there is no better one. At most, ${parts.join('; ')}.`;
}
