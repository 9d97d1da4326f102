const ownForms = /^\/(?:sign-in|sign-out|set-up)(?![\w-])/;

/**
 * Where to go after signing in, as an address on this host, or null when the text could lead elsewhere. Browsers read
 * '\' as '/', drop tabs and line breaks, and take '//name' for another host, so all of these are refused, also when
 * percent signs hide them.
 *
 * @example safeNext('/cultures?page=2') // '/cultures?page=2'
 * @example safeNext('//example.org') // null
 */
export function safeNext(next: string | undefined): string | null {
  if (!next || next.length > 500 || !/^\/[\x21-\x7e]*$/.test(next)) return null;
  let path = next.split(/[?#]/, 1)[0] ?? '';
  for (let round = 0; round < 3; round += 1) {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not be there
    if (/^\/\/|[\\\u0000-\u001f\u007f]/.test(path)) return null;
    try {
      path = decodeURIComponent(path);
    } catch {
      return null;
    }
  }
  return ownForms.test(path) ? null : next;
}
