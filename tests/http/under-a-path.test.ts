import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { h } from 'preact';
import request from 'supertest';
import { beforeAll, describe, expect, it } from 'vitest';
import { withoutBase } from '../../server/plumbing/base-path.ts';
import { at, under } from '../../views/layout/base-path.ts';
import { renderPart } from '../../views/layout/render.ts';
import { testApp } from '../support/test-app.ts';
import { Visitor } from '../support/visitor.ts';
import { furnishedBench, gets, posts, type Walk } from '../support/walk.ts';

const base = '/bench';
const own = `https://shop.example.org${base}`;
const env = { BASE_URL: `${own}/` };

/** Attributes that hold words, or addresses as they are inside: a server reads them, no browser goes there. */
const words = new Set(['value', 'content', 'placeholder', 'alt', 'title', 'd', 'aria-label']);

/** Every attribute of a page that is an address on this host, and those of them that lead beside our path. */
function addressesIn(html: string) {
  const all = [...html.matchAll(/\s([a-z][\w:-]*)="(\/[^"]*)"/gi)].filter(
    ([, name = '']) => !words.has(name),
  );
  return {
    all,
    stray: all.filter(([, , value = '']) => !value.startsWith(`${base}/`)).map(([text]) => text),
  };
}

/** Addresses of this host, or of the machine itself, written out in full anywhere in an answer, that lead beside it. */
function strayInFull(text: string): string[] {
  const found = text.match(/https?:\/\/(?:shop\.example\.org|127\.0\.0\.1|localhost)[^\s"'<>)\\&]*/gi) ?? [];
  return found.filter((one) => one !== own && !one.startsWith(`${own}/`));
}

const going = ['location', 'hx-redirect', 'hx-location', 'hx-push-url', 'service-worker-allowed'];

type Said = { status: number; headers: Record<string, unknown>; text?: string; body?: unknown };

/** What is wrong with an answer below a path over TLS, and how many addresses it was found in. */
function judged({ status, headers, text = '', body }: Said) {
  // A PDF keeps its links beside its pages, in the clear (ISO 32000-1, 12.5.6.5).
  const whole = Buffer.isBuffer(body) ? body.toString('latin1') : text;
  const headed = going
    .map((name) => headers[name])
    .filter((value) => value !== undefined && !String(value).startsWith(`${base}/`));
  const cookies = ([headers['set-cookie'] ?? []].flat() as string[]).filter(
    (one) =>
      !/^__Secure-/.test(one) ||
      ['; Path=/bench/', '; Secure', '; HttpOnly', '; SameSite=Lax'].some((wanted) => !one.includes(wanted)),
  );
  const isPage = String(headers['content-type']).startsWith('text/html');
  const { all, stray } = isPage ? addressesIn(whole) : { all: [], stray: [] };
  const headless = ['content-security-policy', 'x-content-type-options', 'strict-transport-security'].filter(
    (name) => headers[name] === undefined,
  );
  const wrong = [...headed.map(String), ...cookies, ...stray, ...strayInFull(whole), ...headless];
  if (status >= 500) wrong.push(String(status));
  if (whole.includes('elsewhere.example.org')) wrong.push('names the host that was asked for');
  return { wrong, seen: all.length };
}

const forged = { Host: 'elsewhere.example.org', 'X-Forwarded-Host': 'elsewhere.example.org' };

describe('under a path of a host', () => {
  let t: Walk;
  beforeAll(async () => {
    t = await furnishedBench(env);
  });

  it('no page or file at any address leads beside it, or to a host that a request named', async () => {
    const wrong: string[] = [];
    let [pages, links] = [0, 0];
    for (const address of gets(t)) {
      for (const visitor of address.access === 'anyone' ? [t.outsider, t.owner] : [t.owner]) {
        const answer = await visitor.get(`${base}${t.at(address)}`, forged);
        const { wrong: found, seen } = judged(answer);
        wrong.push(...found.map((one) => `${address.path}: ${one}`));
        if (answer.status === 200) pages += 1;
        links += seen;
      }
    }
    expect(wrong).toEqual([]);
    // So that it is known that somebody was let in and pages were read.
    expect(pages).toBeGreaterThan(gets(t).length * 0.8);
    expect(links).toBeGreaterThan(gets(t).length * 25);
  });

  it('what is not there, not allowed or wrongly asked says so with all headers', async () => {
    for (const [path, status] of [
      [`${base}/nowhere`, 404],
      ['/benches/round', 404],
      [`${base}/%E0%A4%A`, 404],
      [`${base}/people`, 403],
    ] as const) {
      const answer = await t.helper.get(path);
      expect([path, answer.status, judged(answer).wrong]).toEqual([path, status, []]);
    }
  });

  it('its bare path leads to its first page, with what was asked', async () => {
    const answer = await t.owner.get(`${base}?a=b`);
    expect([answer.status, answer.headers.location, judged(answer).wrong]).toEqual([308, '/bench/?a=b', []]);
    expect((await t.owner.get(`${base}/`)).headers.location).toMatch(/^\/bench\/[a-z]/);
  });

  it('is the same behind a proxy that takes the path off', async () => {
    const [kept, taken] = [await t.owner.get(`${base}/orders`), await t.owner.get('/orders')];
    const plain = (text: string) => text.replace(/(csrf-token&quot;:&quot;|value=")[\w.-]{30,}/g, '$1');
    expect(plain(taken.text)).toBe(plain(kept.text));
  });

  it('sign-in comes back to where somebody wanted to go, inside', async () => {
    const away = await t.outsider.get(`${base}/orders?page=2`);
    expect(away.headers.location).toBe('/bench/sign-in?next=%2Forders%3Fpage%3D2');
    const part = await t.outsider.get(`${base}/round`, { 'HX-Request': 'true' });
    expect([part.status, part.headers['hx-redirect']]).toEqual([401, '/bench/sign-in']);
  });

  it('no form is answered with a way out of it, as a page or as a part', async () => {
    const wrong: string[] = [];
    for (const [number, address] of posts(t).entries()) {
      if (/sign-out|\/end|deactivate|end-sessions/.test(address.path)) continue;
      const answer = await t.owner.post(`${base}${t.at(address)}`, {}, { part: number % 2 === 0 });
      wrong.push(...judged(answer).wrong.map((one) => `${address.path}: ${one}`));
    }
    expect(wrong).toEqual([]);
  });
});

describe('odd writings of a path', () => {
  let t: Walk;
  beforeAll(async () => {
    t = await furnishedBench(env);
  });

  it('lead nowhere else, and open no page of a customer but by its one address', async () => {
    const page = `${base}${t.at({ path: '/o/:token' })}`;
    const token = page.slice(`${base}/o/`.length);
    const odd = [
      ...[
        '//evil.example.net',
        '/%2f%2fevil.example.net',
        '/..%2f..%2fetc',
        '/%2e%2e/round',
        '/\\evil.example.net',
      ],
      ...['/bench/round', '/%5c%5cevil.example.net/..', '//round', '/round%2f', '/round;x', '/round%00'],
      ...[`//o/${token}`, `/o//${token}`, `/o/${token}%2f`, `/o%2f${token}`, `/o/${token}%00`],
    ].map((rest) => `${base}${rest}`);
    const asked = [
      ...odd,
      ...['//evil.example.net/bench', '//evil.example.net/bench/round', '/%62ench/round', '/BENCH/round'],
      ...[`${base}%2fround`, `${base}?//evil.example.net`, `${base}?next=//evil.example.net`],
      ...[
        '//evil.example.net',
        '/%5cevil.example.net',
        '/%252f%252fevil.example.net',
        'https:evil.example.net',
      ].map((next) => `${base}/sign-in?next=${next}`),
    ];
    const wrong: string[] = [];
    for (const url of asked) {
      const { statusCode: status, headers, body: text } = await t.app.inject({ url });
      wrong.push(...judged({ status, headers, text }).wrong.map((one) => `${url}: ${one}`));
      if (status === 200 && !url.includes('/sign-in')) wrong.push(`${url}: opens something`);
      const next = /name="next" value="([^"]*)"/.exec(text)?.[1];
      if (next) wrong.push(`${url}: leads to ${next}`);
      if (/(href|action|src)="[^"]*evil/.test(text)) wrong.push(`${url}: names another host`);
    }
    expect(wrong).toEqual([]);
    expect((await t.app.inject({ url: page })).statusCode).toBe(200);
  });

  it('a form that is refused while nothing is written is sent again inside', async () => {
    t.pausing.pause = { since: 0, words: '' };
    const answer = await t.owner.post(`${base}/customers?for=order`, { name: 'Quilla' });
    t.pausing.pause = null;
    expect([answer.status, judged(answer).wrong]).toEqual([503, ['503']]);
    expect(answer.text).toContain('action="/bench/customers?for=order"');
  });
});

describe('a path', () => {
  it('is taken off an address only where it is the whole of its beginning', () => {
    expect(withoutBase('/bench/round?x=/bench', base)).toBe('/round?x=/bench');
    expect(withoutBase('/bench', base)).toBe('/');
    expect(withoutBase('/bench?x', base)).toBe('/?x');
    for (const other of ['/round', '/benches', '/Bench/round', '//bench/round', '/'])
      expect(withoutBase(other, base)).toBe(other);
    expect(withoutBase('/bench/bench/round', base)).toBe('/bench/round');
    expect(withoutBase('/bench/round', '')).toBe('/bench/round');
  });

  it('comes before addresses of ours alone', () => {
    expect(at(base, '/')).toBe('/bench/');
    for (const other of [
      '//elsewhere.example.org',
      '/\\elsewhere',
      'https://example.org/x',
      '#main',
      '?page=2',
      '',
    ])
      expect(at(base, other)).toBe(other);
  });

  it('stands in a page once, however often its parts are used, and not in the next', () => {
    const link = h('a', { href: '/round', title: '/round' }, 'x');
    const placed = '<a href="/bench/round" title="/round">x</a>';
    for (let turn = 0; turn < 2; turn += 1) {
      expect(under(base, () => renderPart(h('p', {}, link, link)))).toBe(`<p>${placed}${placed}</p>`);
      expect(renderPart(link)).toBe('<a href="/round" title="/round">x</a>');
    }
    expect(() =>
      under(base, () => {
        throw new Error('while a page was made');
      }),
    ).toThrow();
    expect(renderPart(link)).not.toContain('bench');
  });

  it('that is also a page of ours is refused at the start, with words', async () => {
    await expect(testApp({ BASE_URL: 'https://shop.example.org/orders' })).rejects.toThrow(
      /\/orders is also the address of a page/,
    );
  });
});

describe('what browsers fetch by themselves', () => {
  const folder = fileURLToPath(new URL('../../static/', import.meta.url));
  const files = (readdirSync(folder, { recursive: true }) as string[]).filter((name) =>
    /\.(css|js)$/.test(name),
  );

  it('is named in styles from where they lie, and is there', () => {
    const named = files.flatMap((name) =>
      [...readFileSync(`${folder}${name}`, 'utf8').matchAll(/url\(["']?([^"')]+)|@import\s+["']([^"']+)/g)]
        .filter(() => name.endsWith('.css'))
        .map(([, first, second]) => new URL(first ?? second ?? '', `https://x.invalid/static/${name}`)),
    );
    expect(named.length).toBeGreaterThan(5);
    for (const { host, pathname } of named)
      expect([host, existsSync(`${folder}/..${pathname}`)]).toEqual(['x.invalid', true]);
  });

  it('is named in our scripts by way of the path', () => {
    const asked = files
      .filter((name) => name.endsWith('.js') && name !== 'htmx.min.js')
      .flatMap((name) =>
        readFileSync(`${folder}${name}`, 'utf8')
          .split('\n')
          .map((line) => `${name}: ${line}`),
      )
      .filter((line) =>
        /(fetch|redirect|register|ajax|import|EventSource|Request)\(.*['"`]\/|(href|src|action)\s?[=:]\s?\\?['"`]+\/|from ['"]\//.test(
          line,
        ),
      )
      .filter((line) => !/\bat\(/.test(line));
    expect(asked).toEqual([]);
  });
});

describe('cookies', () => {
  it('bind themselves to the host over TLS, to the path below one, and to neither name without TLS', async () => {
    for (const [address, name, path] of [
      ['https://shop.example.org', '__Host-broodbench-forms', '/'],
      ['https://shop.example.org/bench', '__Secure-broodbench-forms', '/bench/'],
      ['http://127.0.0.1:4780', 'broodbench-forms', '/'],
      ['http://localhost/bench', 'broodbench-forms', '/bench/'],
    ] as const) {
      const { app } = await testApp({ BASE_URL: address });
      const { headers } = await new Visitor(app, null).get('/sign-in');
      const [cookie = ''] = headers['set-cookie'] as unknown as string[];
      expect([address, cookie.split('=')[0], /; Path=([^;]*)/.exec(cookie)?.[1]]).toEqual([
        address,
        name,
        path,
      ]);
      expect([address, /; Secure/.test(cookie)]).toEqual([address, address.startsWith('https')]);
      expect(cookie).not.toMatch(/; Domain/i);
    }
  });

  it('of the same name from beside the path open nothing', async () => {
    const t = await testApp(env);
    const planted = await request(t.app.server)
      .get(`${base}/account`)
      .set('Cookie', '__Host-broodbench=x; broodbench=y');
    expect(planted.status).toBe(303);
  });
});
