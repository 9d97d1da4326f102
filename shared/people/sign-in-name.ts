/**
 * A sign-in name as it is stored and compared: without case, without spaces at its ends, and with characters that
 * look and mean the same made one (Unicode NFKC).
 *
 * @example tidySignInName(' ＯLIVE ') // 'olive'
 */
export function tidySignInName(typed: string): string {
  return typed.normalize('NFKC').trim().toLowerCase().normalize('NFKC');
}
