import { dictionary } from '@zxcvbn-ts/language-common';

let common: Set<string> | null = null;

/** Whether a text in lower case stands among the 49,000 passwords most often found in leaks. */
export function isCommonPassword(text: string): boolean {
  common ??= new Set<string>(dictionary['passwords-common']);
  return common.has(text);
}
