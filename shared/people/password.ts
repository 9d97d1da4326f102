import {
  coveredByWalks,
  isMadeOfCommon,
  lettersOf,
  repeatsItself,
  withoutDisguise,
  withoutEnds,
} from './guessable.ts';

/** At least 15 where a password is the only factor, at least 64 allowed: NIST SP 800-63B-4, section 3.1.1.2. */
export const passwordLength = { least: 15, most: 256 } as const;

export type PasswordContext = {
  /** Names that belong to the person, the business and this service. */
  names: readonly string[];
  /** Whether a text stands on the list of common passwords; it is asked in lower case. */
  isCommon: (text: string) => boolean;
};

/**
 * Why a new password will not do, in words for the field, or null when it will. Follows NIST SP 800-63B-4: length is
 * what counts, no rules about kinds of characters, and no password that stands on a list of common ones, is a name
 * of its context, or is a simple change of such a one. Characters are counted after Unicode NFKC.
 *
 * @example passwordFault('three brown snails', { names: [], isCommon: () => false }) // null
 */
export function passwordFault(password: string, { names, isCommon }: PasswordContext): string | null {
  const plain = password.normalize('NFKC');
  const length = [...plain].length;
  if (length < passwordLength.least) {
    return `Use at least ${passwordLength.least} characters (this has ${length}). Four words in a row do well.`;
  }
  if (length > passwordLength.most) return `Use at most ${passwordLength.most} characters.`;
  const lower = plain.toLowerCase();
  if (isCommon(lower)) return 'This is among the passwords that are tried first. Choose another.';
  if (repeatsItself(lower)) return 'This repeats one piece again and again. Choose something less regular.';
  if (length - coveredByWalks(lower) < 5)
    return 'This runs along the keyboard or the alphabet. Choose something less regular.';
  if (isMostlyNames(lower, names))
    return 'This is little more than a name that others know. Choose something that is not about you or the business.';
  const madeOfCommon = [lower, withoutDisguise(lower), withoutDisguise(withoutEnds(lower))].some((text) =>
    isMadeOfCommon(lettersOf(text), length, isCommon),
  );
  return madeOfCommon
    ? 'This is one or two common words with little added. Put four or more words in a row.'
    : null;
}

/** At least so much must be left of a password when the names are taken out. */
const leastBesideNames = 8;

function isMostlyNames(lower: string, names: readonly string[]): boolean {
  const squeeze = (text: string) =>
    text
      .normalize('NFKC')
      .toLowerCase()
      .replace(/[^\p{L}\p{N}]+/gu, '');
  const parts = names.flatMap((name) => [name, ...name.split(/[^\p{L}\p{N}]+/u)]).map(squeeze);
  const known = parts.filter((part) => part.length >= 4).sort((a, b) => b.length - a.length);
  const whole = squeeze(lower);
  let rest = whole;
  for (const part of known) rest = rest.replaceAll(part, '');
  return rest.length < whole.length && [...rest].length < leastBesideNames;
}
