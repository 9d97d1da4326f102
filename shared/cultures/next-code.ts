/**
 * A code for the next culture: the same letters and the number after the highest in use, as wide as those are.
 *
 * @param codes codes in use that begin with these letters, any order
 * @param letters what the code begins with, "AR"
 * @example nextCode(['AR-009', 'AR-010'], 'AR') // 'AR-011'
 */
export function nextCode(codes: readonly string[], letters: string): string {
  let highest = 0;
  let width = 3;
  for (const code of codes) {
    const found = /^(.*?)[-. ]?(\d+)$/.exec(code);
    if (!found || found[1]!.toUpperCase() !== letters.toUpperCase()) continue;
    highest = Math.max(highest, Number(found[2]));
    width = Math.max(width, found[2]!.length);
  }
  return `${letters.toUpperCase()}-${String(highest + 1).padStart(width, '0')}`;
}

/**
 * The letters a species' codes begin with when none is in use yet: the initials of genus and species.
 *
 * @example codeLetters('Armadillidium maculatum') // 'AM'
 */
export function codeLetters(scientificName: string): string {
  const initials = scientificName
    .split(/\s+/)
    .map((word) => word.replace(/[^A-Za-z]/g, '').charAt(0))
    .join('')
    .slice(0, 2)
    .toUpperCase();
  return initials.length === 2 ? initials : 'CU';
}
