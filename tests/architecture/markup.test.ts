import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type JSXAttribute, Visitor } from 'oxc-parser';
import { describe, expect, it } from 'vitest';
import { lineAt, type Source, sources } from './sources.ts';

/** Attributes that the content security policy forbids, or that would let text become markup. */
const forbidden = /^(style|dangerouslySetInnerHTML|srcdoc|on[a-z]+|hx-on.*)$/i;
/** Preact's handlers are functions and never reach the page; but a page here is only text, so they do nothing. */
const nameOf = (node: JSXAttribute) =>
  node.name.type === 'JSXIdentifier' ? node.name.name : node.name.name.name;

function wrongAttributes({ path, text, parsed }: Source): string[] {
  const found: string[] = [];
  new Visitor({
    JSXAttribute(node) {
      if (forbidden.test(nameOf(node))) found.push(`${path}:${lineAt(text, node.start)} ${nameOf(node)}`);
    },
  }).visit(parsed.program);
  return found;
}

const isLaidOut = ({ path }: Source) => /^(views|server|ops)\//.test(path);

/** Where HTML leaves as text, each with its reason. */
const mayWriteHtml: Record<string, string> = {
  'views/layout/render.ts': 'the renderer, which escapes',
  'server/plumbing/base-path.ts': 'sends what the renderer gave',
};
const mayPutMarkup: Record<string, string> = {
  'htmx.min.js': 'the pinned library; its own evaluating is turned off',
  'waiting/list.js': 'reads a page of ours for its forms, which never get into a page as they are',
};

describe('pages', () => {
  it('carry no style, no script and no raw markup in an attribute', () => {
    expect(sources().filter(isLaidOut).flatMap(wrongAttributes)).toEqual([]);
  });

  it('name raw markup nowhere but where it is refused', () => {
    const named = sources()
      .filter((source) => isLaidOut(source) && /dangerouslySetInnerHTML/i.test(source.text))
      .map(({ path }) => path);
    expect(named).toEqual(['views/layout/safe-links.ts']);
  });

  it('are put together by one renderer; our scripts put no text into a page as markup', () => {
    const renders = sources()
      .filter(({ path }) => /^(server|views)\//.test(path))
      .filter(({ text }) => /renderTo(String|StaticMarkup)|text\/html/.test(text));
    expect(renders.map(({ path }) => path).sort()).toEqual([...Object.keys(mayWriteHtml)].sort());
    const sinks =
      /\.(inner|outer)HTML|insertAdjacentHTML|document\.write|\beval\(|new Function|createContextualFragment|setHTMLUnsafe|parseFromString|srcdoc|setTimeout\(\s*['"`]/;
    const scripts = readdirSync('static', { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.js'),
    );
    const putting = scripts.filter((name) => sinks.test(readFileSync(join('static', name), 'utf8')));
    expect(putting.sort()).toEqual([...Object.keys(mayPutMarkup)].sort());
  });

  it('are made of views: HTML is written in views/ only', () => {
    const written = sources()
      .filter(({ path }) => /^(server|shared)\//.test(path))
      .filter(({ text }) => /['"`]\s*<(!doctype|html|div|p|table|form|a)[\s>]/i.test(text))
      .map(({ path }) => path);
    expect(written).toEqual([]);
  });
});
