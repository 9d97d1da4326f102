/** How many letters must be put in, taken out or changed to make one word of another, counted up to two. */
function distance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1)
      next.push(
        Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + Number(a.charAt(i - 1) !== b.charAt(j - 1))),
      );
    row = next;
  }
  return row[b.length] ?? Number.POSITIVE_INFINITY;
}

const farthest = 2;
/** Below this every short word is near every other. */
const shortest = 6;
const ownName = /^BROODBENCH_/i;

/**
 * The known name that a wrong one was likely meant to be; null where none is near. A long name may differ by two
 * letters; one that is only written in small letters, or with the program's name in front, is near too.
 */
export function nearestName(name: string, known: readonly string[]): string | null {
  const plain = name.replace(ownName, '').toUpperCase();
  if (known.includes(plain)) return name.startsWith('npm_') ? null : plain;
  let nearest: string | null = null;
  let least = farthest + 1;
  for (const one of known.filter(({ length }) => Math.min(length, plain.length) >= shortest)) {
    const far = distance(plain, one);
    if (far < least) [least, nearest] = [far, one];
  }
  return nearest;
}
