/**
 * The parts of a place from the outside in, parted by `/`, `>` or a comma; a backslash keeps such a sign as part
 * of a name.
 *
 * @example readPlace('Rack 1 / 4') // ['Rack 1', '4']
 */
export function readPlace(text: string): string[] {
  const parts: string[] = [];
  let part = '';
  for (let at = 0; at < text.length; at += 1) {
    const character = text[at]!;
    const next = text[at + 1];
    if (character === '\\' && next !== undefined && '/>,\\'.includes(next)) {
      part += next;
      at += 1;
    } else if ('/>,'.includes(character)) {
      parts.push(part);
      part = '';
    } else part += character;
  }
  parts.push(part);
  return parts.map((name) => name.trim().replace(/\s+/g, ' ')).filter((name) => name !== '');
}

/** A place as `readPlace` reads it back. */
export function writePlace(parts: readonly string[]): string {
  return parts.map((part) => part.replace(/[/>,\\]/g, '\\$&')).join(' / ');
}
