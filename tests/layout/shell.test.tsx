import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ErrorPage } from '../../views/layout/error-page.tsx';
import { htmxConfig } from '../../views/layout/htmx.ts';
import { Notice, NoticeSlot } from '../../views/layout/notice.tsx';
import { renderPage, renderPart } from '../../views/layout/render.ts';
import { Shell } from '../../views/layout/shell.tsx';
import { styles } from '../../views/layout/styles.ts';
import { furniture } from './furniture.ts';

const page = (over = {}) =>
  renderPage(
    <Shell
      furniture={furniture(over)}
      title="Cultures"
      purpose="All that is kept."
      actions={<a href="/new">New</a>}
    >
      <p>Body</p>
    </Shell>,
  );

/** The words of each navigation by its label. */
function navigation(html: string, label: string): string[] {
  const nav = new RegExp(`<nav[^>]*aria-label="${label}">(.*?)</nav>`, 's').exec(html)?.[1] ?? '';
  return [...nav.matchAll(/<a [^>]*href="([^"]+)"/g)].map((match) => match[1]!);
}

describe('the page', () => {
  it('is whole: language, title, skip link, one heading, its purpose', () => {
    const html = page();
    expect(html.startsWith('<!doctype html>\n<html lang="en">')).toBe(true);
    expect(html).toContain('<title>Cultures · Demo Shelf</title>');
    expect(html.indexOf('href="#main"')).toBeLessThan(html.indexOf('<nav'));
    expect(html.match(/<h1>/g)).toHaveLength(1);
    expect(html).toContain('<p class="purpose">All that is kept.</p>');
  });

  it('follows the system or the chosen scheme', () => {
    expect(page()).not.toContain('data-scheme');
    expect(page({ scheme: 'dark' })).toContain('<html lang="en" data-scheme="dark">');
  });

  it('links only files that are there, with the version that lets browsers keep them', () => {
    const files = [...page().matchAll(/(?:href|src)="\/static\/([^"?]+)(\?v=v1)?"/g)];
    expect(files.length).toBeGreaterThan(6);
    for (const [, file = '', version] of files) {
      // Modules import one another, so theirs stands in the name of the folder.
      const there = file.replace(/^waiting-v1\//, 'waiting/');
      const parts = styles[file as keyof typeof styles]?.map((part) => `${part}.css`) ?? [there];
      for (const part of parts)
        expect(existsSync(new URL(`../../static/${part}`, import.meta.url)), part).toBe(true);
      // Fonts never change.
      if (there === file && !file.startsWith('fonts/')) expect(version, file).toBe('?v=v1');
    }
    expect(files.map(([, file]) => file)).toContain('waiting-v1/page.js');
  });

  it('is given every style there is', () => {
    const there = readdirSync(new URL('../../static/', import.meta.url))
      .filter((name) => name.endsWith('.css'))
      .map((name) => name.slice(0, -'.css'.length));
    const named: readonly string[] = Object.values(styles).flat();
    expect(there.filter((name) => !named.includes(name))).toEqual([]);
  });

  it('names only fonts that are there', () => {
    const css = readFileSync(new URL('../../static/base.css', import.meta.url), 'utf8');
    const fonts = [...css.matchAll(/url\("([^"]+)"\)/g)].map((match) => match[1]!);
    expect(fonts.length).toBeGreaterThan(5);
    for (const font of fonts)
      expect(existsSync(new URL(`../../static/${font}`, import.meta.url)), font).toBe(true);
  });
});

describe('navigation', () => {
  const barWords = ['/round', '/cultures', '/surplus', '/orders'];
  const helperWords = [...barWords, '/feeders', '/climate'];
  const ownerWords = [...helperWords, '/species', '/customers', '/records', '/people', '/settings'];

  it('gives the owner every section, the helper those of daily work, and the phone a bar of the first four', () => {
    expect(navigation(page(), 'Sections')).toEqual(ownerWords);
    expect(navigation(page(), 'More sections')).toEqual(ownerWords.slice(4));
    expect(navigation(page(), 'Main sections')).toEqual(barWords);
    const helper = page({ who: { name: 'Tam', role: 'helper' } });
    expect(navigation(helper, 'Sections')).toEqual(helperWords);
    expect(navigation(helper, 'More sections')).toEqual(helperWords.slice(4));
    expect(navigation(helper, 'Main sections')).toEqual(barWords);
  });

  it('marks where one is, and what waits', () => {
    const html = page({ waiting: { orders: 3 } });
    expect(html.match(/href="\/cultures" aria-current="page"/g)).toHaveLength(2);
    expect(html).toContain('3<span class="visually-hidden"> waiting</span>');
  });

  it('signs out by a form, and shows nothing of the house to who is not signed in', () => {
    expect(page()).toContain('<form action="/sign-out" method="post"');
    expect(page()).toContain('href="/account"');
    const outside = page({ who: null });
    expect(outside).not.toContain('<nav');
    expect(outside).not.toContain('/sign-out');
    expect(outside).not.toContain('/account');
  });
});

describe('htmx', () => {
  it('evaluates nothing, adds no style, and brings a refused form back', () => {
    const content = /<meta name="htmx-config" content="([^"]+)"/.exec(page())?.[1]?.replaceAll('&quot;', '"');
    const config = JSON.parse(content ?? '') as typeof htmxConfig;
    expect(config).toEqual(htmxConfig);
    expect(config).toMatchObject({ allowEval: false, includeIndicatorStyles: false, selfRequestsOnly: true });
    const answerTo = (status: string) =>
      config.responseHandling.find((rule) => new RegExp(rule.code).test(status))?.swap;
    expect(['200', '204', '422', '403', '404', '500'].map(answerTo)).toEqual([
      true,
      false,
      true,
      false,
      false,
      false,
    ]);
  });

  it('sends the token against forgery with every request', () => {
    expect(page()).toContain('hx-headers="{&quot;csrf-token&quot;:&quot;token-1&quot;}"');
  });
});

describe('notices', () => {
  it('say their tone in a word and can be undone by a form', () => {
    const html = renderPart(
      <Notice
        tone="harm"
        undo={{ action: '/undo', label: 'Undo', fields: { event: 9 } }}
        furniture={furniture()}
      >
        Mites seen.
      </Notice>,
    );
    expect(html).toContain('<strong class="notice-word">Take care: </strong>Mites seen.');
    expect(html).toContain('<form action="/undo" method="post"');
    expect(html).toContain('name="event" value="9"');
  });

  it('have a place that is always there and is heard', () => {
    expect(page()).toContain('<div id="notice" class="notice-slot" role="status"></div>');
    const news = furniture({ notice: { text: 'Saved.', tone: 'plain' } });
    expect(renderPart(<NoticeSlot furniture={news} oob />)).toContain('role="status" hx-swap-oob="true"');
  });
});

describe('an error page', () => {
  it.each([403, 404, 413, 429, 500, 503])('for %d says what to do and its request id', (status) => {
    const html = renderPage(
      <ErrorPage status={status} requestId="req-7" furniture={furniture({ who: null })} />,
    );
    expect(html).toContain('req-7');
    expect(html).toContain(`Answer ${status}`);
    expect(html).toMatch(/[Gg]o back|[Ww]ait|[Ll]ook for it/);
  });

  it('can be made when nothing else can', () => {
    expect(renderPage(<ErrorPage status={500} requestId="req-7" />)).toContain(
      '<h1>Something went wrong here</h1>',
    );
  });
});
