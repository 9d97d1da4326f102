/** Joins class names, leaving out what is not there. */
export function classes(...names: (string | false | null | undefined)[]): string | undefined {
  const joined = names.filter(Boolean).join(' ');
  return joined === '' ? undefined : joined;
}
