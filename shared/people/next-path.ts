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
  let plainer = decoded(path);
  while (plainer !== null && plainer !== path && isHarmless(path)) {
    path = plainer;
    plainer = decoded(path);
  }
  return plainer === null || !isHarmless(path) || ownForms.test(path) ? null : next;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not be there
const isHarmless = (path: string) => !/^\/\/|[\\\u0000-\u001f\u007f]/.test(path);

function decoded(path: string): string | null {
  try {
    return decodeURIComponent(path);
  } catch {
    return null;
  }
}
