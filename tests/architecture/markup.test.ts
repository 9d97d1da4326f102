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

  it('are made of views: HTML is written in views/ only', () => {
    const written = sources()
      .filter(({ path }) => /^(server|shared)\//.test(path))
      .filter(({ text }) => /['"`]\s*<(!doctype|html|div|p|table|form|a)[\s>]/i.test(text))
      .map(({ path }) => path);
    expect(written).toEqual([]);
  });
});
