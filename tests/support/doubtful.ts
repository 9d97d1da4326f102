export const form = 'Content-Type: application/x-www-form-urlencoded';
const hidden = 'GET /smuggled HTTP/1.1\r\nHost: x\r\n\r\n';

/**
 * Requests that two readers could take for different ones (RFC 9112, 6.3, 2.2, 5.1 and 11.2; OWASP ASVS 5.0, 4.2.1).
 * Each is refused, or read in the one way the RFC allows: `at most` answers, and none of them 200 to a form.
 */
export const doubtful: [string, string, number[]][] = [
  [
    'two lengths',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nContent-Length: 5\r\nContent-Length: 6\r\n\r\nabcdef`,
    [400],
  ],
  [
    'a length and chunks',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n${hidden}`,
    [400],
  ],
  [
    'chunks and a length',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nTransfer-Encoding: chunked\r\nContent-Length: 4\r\n\r\n0\r\n\r\n${hidden}`,
    [400],
  ],
  [
    'two codings',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nTransfer-Encoding: chunked, identity\r\n\r\n0\r\n\r\n`,
    [400],
  ],
  [
    'an unknown coding',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nTransfer-Encoding: xchunked\r\n\r\n0\r\n\r\n`,
    [400],
  ],
  [
    'a coding behind a tab',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nTransfer-Encoding:\tchunked\x0b\r\n\r\n0\r\n\r\n`,
    [400],
  ],
  ['a space before the colon', 'GET /sign-in HTTP/1.1\r\nHost: x\r\nContent-Length : 5\r\n\r\nabcde', [400]],
  ['a line that goes on', 'GET /sign-in HTTP/1.1\r\nHost: x\r\nX-A: one\r\n two\r\n\r\n', [200, 400]],
  ['bare line feeds', 'GET /sign-in HTTP/1.1\nHost: x\n\n', [400]],
  ['a bare carriage return', 'GET /sign-in HTTP/1.1\r\nHost: x\rX-A: y\r\n\r\n', [400]],
  ['a NUL in a header', 'GET /sign-in HTTP/1.1\r\nHost: x\r\nX-A: a\0b\r\n\r\n', [400]],
  [
    'a wrong chunk size',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\nabc\r\n0\r\n\r\n`,
    [400],
  ],
  [
    'a negative chunk',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nTransfer-Encoding: chunked\r\n\r\n-1\r\nabc\r\n0\r\n\r\n`,
    [400],
  ],
  [
    'a huge chunk',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nTransfer-Encoding: chunked\r\n\r\nfffffffffffffffff\r\nabc`,
    [400],
  ],
  [
    'a negative length',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nContent-Length: -5\r\n\r\nabcde`,
    [400],
  ],
  [
    'a length with a sign',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nContent-Length: +5\r\n\r\nabcde`,
    [400],
  ],
  [
    'a length in hexadecimal',
    `POST /sign-in HTTP/1.1\r\nHost: x\r\n${form}\r\nContent-Length: 0x5\r\n\r\nabcde`,
    [400],
  ],
  ['no host', 'GET /sign-in HTTP/1.1\r\n\r\n', [400]],
  ['two hosts', 'GET /sign-in HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n', [200, 400]],
  [
    'a whole address of elsewhere',
    'GET http://example.org/sign-in HTTP/1.1\r\nHost: x\r\n\r\n',
    [200, 404, 400],
  ],
  ['an address that is only a host', 'CONNECT example.org:443 HTTP/1.1\r\nHost: x\r\n\r\n', [404, 400]],
  ['TRACE', 'TRACE / HTTP/1.1\r\nHost: x\r\nX-Secret: mirror\r\n\r\n', [404, 405, 400]],
  ['an unknown method', 'SPLIT / HTTP/1.1\r\nHost: x\r\n\r\n', [400]],
  ['HTTP/2 without TLS', 'PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n', [400]],
  ['HTTP/0.9', 'GET /sign-in\r\n\r\n', [200, 400]],
  ['a space in the address', 'GET /sign in HTTP/1.1\r\nHost: x\r\n\r\n', [400]],
];
