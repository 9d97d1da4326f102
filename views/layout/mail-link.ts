/**
 * An address that opens a mail program with a letter begun (RFC 6068): everything is encoded, so that nothing typed
 * can become another recipient or a header; a line break is %0D%0A.
 */
export function mailLink(to: string, letter: { subject: string; body: string }): string {
  const encode = (text: string) => encodeURIComponent(text.replace(/\r\n?|\n/g, '\r\n'));
  const address = to.split('@').map(encodeURIComponent).join('@');
  return `mailto:${address}?subject=${encode(letter.subject)}&body=${encode(letter.body)}`;
}
