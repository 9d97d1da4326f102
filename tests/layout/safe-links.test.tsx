import { h } from 'preact';
import { describe, expect, it } from 'vitest';
import { mailLink } from '../../views/layout/mail-link.ts';
import { renderPart } from '../../views/layout/render.ts';
import { blockedAddress, ownAddress, safeLink } from '../../views/layout/safe-links.ts';

/** Addresses that run a script in some browser, in the disguises browsers see through. */
const running = [
  'javascript:alert(1)',
  'JavaScript:alert(1)',
  ' \t\njavascript:alert(1)',
  'java\nscript:alert(1)',
  'java\tscript:alert(1)',
  '\u0001javascript:alert(1)',
  'vbscript:msgbox(1)',
  'data:text/html,<script>alert(1)</script>',
  'data:text/html;base64,PHNjcmlwdD4=',
  'blob:https://example.org/1',
  'file:///etc/hosts',
];

const harmless = [
  '/cultures/PS-014',
  '?sort=code',
  '#main',
  '',
  'https://example.org/a?b=javascript:1',
  'mailto:someone@example.org',
  'tel:+4400000',
  '/a:b',
  'x/y:z',
];

describe('addresses in links', () => {
  it.each(running)('never lets %j through', (address) => {
    expect(safeLink(address)).toBe(blockedAddress);
    expect(ownAddress(address)).toBe(blockedAddress);
    const html = renderPart(<a href={address}>x</a>);
    expect(html).toBe(`<a href="${blockedAddress}">x</a>`);
  });

  it.each(harmless)('leaves %j as it is', (address) => {
    expect(safeLink(address)).toBe(address);
  });

  it.each(['mailto:someone@example.org', 'tel:+4400000'])('lets %j stand in a link only', (address) => {
    expect(renderPart(<a href={address}>x</a>)).toContain(address);
    expect(renderPart(<img src={address} alt="" />)).toContain(blockedAddress);
    expect(renderPart(<blockquote cite={address} />)).toContain(blockedAddress);
    expect(renderPart(<link href={address} />)).toContain(blockedAddress);
    expect(renderPart(<form action={address} />)).toContain(blockedAddress);
  });

  it('encodes a letter that is begun, so that it stays one letter to one address', () => {
    // RFC 6068, section 5: line breaks are %0D%0A; '&' and '?' in text are encoded.
    const address = mailLink('a+b@example.org', {
      subject: 'Order 1 & 2',
      body: 'Hello\nbcc=x&cc=y?\r\nEnd',
    });
    expect(address).toBe(
      'mailto:a%2Bb@example.org?subject=Order%201%20%26%202&body=Hello%0D%0Abcc%3Dx%26cc%3Dy%3F%0D%0AEnd',
    );
    const strange = mailLink('x?bcc=y@example.org,z', { subject: '', body: '' });
    expect(strange).toBe('mailto:x%3Fbcc%3Dy@example.org%2Cz?subject=&body=');
    expect(renderPart(<a href={address}>x</a>)).toContain(address.replaceAll('&', '&amp;'));
  });

  it('lets a picture carry its data, a link not', () => {
    const picture = 'data:image/png;base64,AAAA';
    expect(renderPart(<img src={picture} alt="" />)).toContain(picture);
    expect(renderPart(<a href={picture}>x</a>)).toContain(blockedAddress);
    expect(renderPart(<img src="data:text/html,x" alt="" />)).toContain(blockedAddress);
  });
});

describe('addresses that forms and htmx send to', () => {
  const away = [
    'https://example.org/x',
    '//example.org/x',
    '/\\example.org',
    '\\\\example.org',
    '/\t/example.org',
  ];

  it.each(away)('stay on this host: %j', (address) => {
    expect(ownAddress(address)).toBe(blockedAddress);
    const html = renderPart(
      <form action={address} hx-post={address}>
        <button type="submit" formAction={address} hx-get={address}>
          x
        </button>
      </form>,
    );
    expect(html).not.toContain('example.org');
    expect(html.split(blockedAddress)).toHaveLength(5);
  });

  it('may be any path of this host', () => {
    expect(ownAddress('/orders/12/pack?x=1')).toBe('/orders/12/pack?x=1');
    expect(
      renderPart(
        <a href="/x" hx-push-url="true">
          x
        </a>,
      ),
    ).toContain('hx-push-url="true"');
  });
});

describe('mistakes of ours', () => {
  it.each([
    ['style', 'color: red'],
    ['onclick', 'alert(1)'],
    ['hx-on:click', 'alert(1)'],
    ['hx-vals', 'js:{a: 1}'],
    ['dangerouslySetInnerHTML', { __html: '<b>x</b>' }],
  ])('stop at once: %s', (name, value) => {
    expect(() => h('div', { [name]: value })).toThrow(name);
  });
});
