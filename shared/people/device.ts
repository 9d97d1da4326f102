const browsers: readonly [RegExp, string][] = [
  [/\bEdg(?:e|A|iOS)?\//, 'Edge'],
  [/\bOPR\/|\bOpera\b/, 'Opera'],
  [/\bSamsungBrowser\//, 'Samsung Internet'],
  [/\bFirefox\/|\bFxiOS\//, 'Firefox'],
  [/Chrome\/|\bCriOS\/|\bChromium\//, 'Chrome'],
  [/\bSafari\//, 'Safari'],
];

const systems: readonly [RegExp, string][] = [
  [/\biPhone\b/, 'an iPhone'],
  [/\biPad\b/, 'an iPad'],
  [/\bAndroid\b/, 'Android'],
  [/\bCrOS\b/, 'ChromeOS'],
  [/\bWindows\b/, 'Windows'],
  [/\bMac OS X\b|\bMacintosh\b/, 'a Mac'],
  [/\bLinux\b|\bX11\b/, 'Linux'],
];

const firstOf = (list: readonly [RegExp, string][], text: string) =>
  list.find(([pattern]) => pattern.test(text))?.[1];

/**
 * A browser's own description (HTTP User-Agent, RFC 9110 section 10.1.5) in words that its owner recognises. Browsers
 * claim to be one another, so the most particular claim is looked at first.
 *
 * @example deviceWords('Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0') // 'Firefox on Linux'
 */
export function deviceWords(userAgent: string): string {
  const browser = firstOf(browsers, userAgent);
  const system = firstOf(systems, userAgent);
  if (browser && system) return `${browser} on ${system}`;
  if (browser || system) return browser ?? `A browser on ${system}`;
  return 'A browser that does not say what it is';
}
