/** What makes a long password easy to guess all the same. All functions take lower case. */

/**
 * Whether the text is one piece repeated (the last time perhaps cut short), or has fewer than five different
 * characters.
 *
 * @example repeatsItself('abcabcab') // true
 */
export function repeatsItself(text: string): boolean {
  const characters = [...text];
  if (new Set(characters).size < 5) return true;
  for (let unit = 1; unit <= characters.length / 2; unit += 1) {
    if (characters.every((character, at) => character === characters[at % unit])) return true;
  }
  return false;
}

const tracks = [
  'abcdefghijklmnopqrstuvwxyz',
  '01234567890',
  'qwertyuiop',
  'qwertzuiop',
  'azertyuiop',
  'asdfghjkl',
  'zxcvbnm',
  'yxcvbnm',
  'wxcvbn',
  // down and up the columns of the keyboard, and in pairs of rows
  '1qaz2wsx3edc4rfv5tgb6yhn7ujm8ik9ol0p',
  'qazwsxedcrfvtgbyhnujmikolp',
  '1q2w3e4r5t6y7u8i9o0p',
  'qawsedrftgyhujikolp',
].flatMap((track) => [track, [...track].reverse().join('')]);

const leastWalk = 4;

/** How far the text follows a track from a position on: a run like 'defg' or 'poiu'. */
function walkFrom(text: string, at: number): number {
  let longest = 0;
  for (const track of tracks) {
    const start = track.indexOf(text.slice(at, at + leastWalk));
    if (start < 0 || at + leastWalk > text.length) continue;
    let length = leastWalk;
    while (at + length < text.length && text[at + length] === track[start + length]) length += 1;
    longest = Math.max(longest, length);
  }
  return longest;
}

/**
 * How many characters belong to runs along the alphabet, the digits or the rows and columns of a keyboard.
 *
 * @example coveredByWalks('qwerty-12345-x') // 11
 */
export function coveredByWalks(text: string): number {
  let covered = 0;
  let at = 0;
  while (at < text.length) {
    const length = walkFrom(text, at);
    covered += length;
    at += Math.max(1, length);
  }
  return covered;
}

const disguises: Record<string, string> = {
  '0': 'o',
  '1': 'l',
  '3': 'e',
  '4': 'a',
  '5': 's',
  '7': 't',
  '@': 'a',
  $: 's',
  '!': 'i',
};

/**
 * Letters for the digits and signs that people write in their place.
 *
 * @example withoutDisguise('p@55w0rd') // 'password'
 */
export const withoutDisguise = (text: string) =>
  text.replace(/[0134577@$!]/g, (sign) => disguises[sign] ?? sign);

/**
 * The letters alone.
 *
 * @example lettersOf('sun-shine 99') // 'sunshine'
 */
export const lettersOf = (text: string) => text.replace(/[^\p{L}]/gu, '');

/**
 * Without the digits and signs before the first letter and after the last.
 *
 * @example withoutEnds('12p@ss2026!') // 'p@ss'
 */
export const withoutEnds = (text: string) => text.replace(/^[^\p{L}]+|[^\p{L}]+$/gu, '');

/** Digits and signs beside the letters beyond this are taken for a secret of their own. */
const mostBesideLetters = 9;
const shortestWord = 4;

/**
 * Whether letters are one common password, two of them, one with up to three letters more, or one repeated, and not
 * much else stands beside them.
 *
 * @param length of the whole password the letters were taken from
 * @example isMadeOfCommon('passwordqwerty', 16, (text) => ['password', 'qwerty'].includes(text)) // true
 */
export function isMadeOfCommon(
  letters: string,
  length: number,
  isCommon: (text: string) => boolean,
): boolean {
  if (letters.length < shortestWord || length - letters.length > mostBesideLetters) return false;
  if (isCommon(letters)) return true;
  for (let cut = 1; cut < letters.length; cut += 1) {
    const [first, rest] = [letters.slice(0, cut), letters.slice(cut)];
    const firstIs = cut >= shortestWord && isCommon(first);
    const restIs = rest.length >= shortestWord && isCommon(rest);
    if (firstIs && (restIs || rest.length < shortestWord)) return true;
    if (restIs && cut < shortestWord) return true;
    if (firstIs && letters === first.repeat(Math.floor(letters.length / cut))) return true;
  }
  return false;
}
