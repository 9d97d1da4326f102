import { healthWords } from '../cultures/say.ts';
import { defaultLocale, formatCount, formatNumber, formatPercent } from '../layout/format.ts';

const twoDigits = new Map<string, Intl.NumberFormat>();

/** 0.1874 -> "0.19": kinship and inbreeding are shares of gene pairs, written as the books write them. */
export function formatF(f: number, locale = defaultLocale): string {
  const format =
    twoDigits.get(locale) ??
    new Intl.NumberFormat(locale, { minimumFractionDigits: 2, maximumFractionDigits: 2 });
  twoDigits.set(locale, format);
  return format.format(f);
}

/** 0.8126 -> "81 %"; what is nearly all or nearly nothing is not rounded to the whole. */
export function formatGeneShare(share: number, locale?: string): string {
  if (share > 0.99 && share < 1) return formatPercent(Math.min(0.999, share), locale, 1);
  if (share > 0 && share < 0.01) return formatPercent(Math.max(0.001, share), locale, 1);
  return formatPercent(share, locale);
}

/** How a culture stands, in one or two words. */
export function standingWords(culture: { status: string; health: string; isInbred: boolean }): string {
  if (culture.status !== 'active') return culture.status === 'retired' ? 'retired' : 'in quarantine';
  if (culture.health !== 'well')
    return shortHealth[culture.health] ?? healthWords[culture.health] ?? culture.health;
  return culture.isInbred ? 'inbred' : 'well';
}

const shortHealth: Record<string, string> = { mites: 'mites', mould: 'mould', 'die-off': 'die-off' };

/** What a box of the graph that stands for several cultures says: "and 12 more", "and 5 retired". */
export function moreWords({ count, kept, key }: { count: number; kept: number; key: string }): string {
  const before = key.startsWith('before ');
  if (kept === 0)
    return `${before ? '' : 'and '}${formatCount(count, 'retired', 'retired')}${before ? ' before' : ''}`;
  return before ? `${count} before these` : `and ${count} more`;
}

/** From how many animals down a culture's effective size is called small. */
export function floorWords(
  { effective, animals }: { effective: number; animals: number | null },
  locale?: string,
): string {
  if (animals === null) return '';
  const loss = formatGeneShare(1 / (2 * effective), locale);
  return `With fewer than ${formatNumber(animals, locale)} animals the effective size is below ${effective}: each generation then loses more than ${loss} of the heterozygosity (Franklin 1980).`;
}

/** Said wherever inbreeding of a species of one sex would stand. */
export const clonalWords =
  'This species is kept as females alone. Their young are copies of them, so each line counts as one clone: inbreeding and kinship say nothing here.';
