import { describe, expect, it } from 'vitest';
import { networkOf } from '../../server/people/queries-tries.ts';
import { deviceWords } from '../../shared/people/device.ts';
import { safeNext } from '../../shared/people/next-path.ts';
import { tidySignInName } from '../../shared/people/sign-in-name.ts';

describe('where to go after signing in', () => {
  it.each(['/', '/cultures?page=2', '/cultures?q=%C3%BC%25', '/a//b', '/orders?next=//example.org'])(
    '%s is here',
    (next) => {
      expect(safeNext(next)).toBe(next);
    },
  );

  it.each([
    undefined,
    '',
    'cultures',
    'https://example.org/',
    'javascript:alert(1)',
    '//example.org',
    '///example.org',
    '/\\example.org',
    '\\\\example.org',
    '/%2fexample.org',
    '/%2Fexample.org',
    '/%5cexample.org',
    '/%252fexample.org',
    '/%25252fexample.org',
    '/\t/example.org',
    '/%09/example.org',
    '/%0d%0aSet-Cookie:x',
    '/a b',
    '/%',
    '/sign-in?next=/',
    '/sign-out',
    '/set-up',
    `/${'a'.repeat(500)}`,
  ])('%s is not', (next) => {
    expect(safeNext(next)).toBeNull();
  });
});

describe('a sign-in name', () => {
  it('is compared without case, ends and look-alikes of the same meaning', () => {
    expect(tidySignInName(' ＯLIVE ')).toBe('olive');
    expect(tidySignInName('OLIVE')).toBe(tidySignInName('olive'));
    expect(tidySignInName('e\u0301tienne')).toBe('\u00e9tienne');
  });
});

// Strings in the forms that browsers send (RFC 9110 section 10.1.5 says what the field is; the claims are common
// practice, no source).
describe('a device', () => {
  it.each([
    ['Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0', 'Firefox on Linux'],
    [
      'Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Mobile Safari/537.36',
      'Chrome on Android',
    ],
    [
      'Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1',
      'Safari on an iPhone',
    ],
    [
      'Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Safari/537.36 Edg/140.0.0.0',
      'Edge on Windows',
    ],
    ['curl/8.14', 'A browser that does not say what it is'],
    ['', 'A browser that does not say what it is'],
  ])('%s', (userAgent, words) => {
    expect(deviceWords(userAgent)).toBe(words);
  });
});

describe('an address', () => {
  it.each([
    ['192.0.2.7', '192.0.2.7'],
    ['::ffff:192.0.2.7', '192.0.2.7'],
    ['2001:db8:1:2:aaaa:bbbb:cccc:dddd', '2001:db8:1:2'],
    ['2001:db8:1:2::1', '2001:db8:1:2'],
    ['2001:0db8::1', '2001:db8:0:0'],
    ['::1', '0:0:0:0'],
  ])('%s counts as %s', (address, network) => {
    expect(networkOf(address)).toBe(network);
  });
});
