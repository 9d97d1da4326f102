import { type NewExpression, type Node, parseSync, Visitor } from 'oxc-parser';
import { describe, expect, it } from 'vitest';
import { importsOf, lineAt, roomOf, type Source, sources } from './sources.ts';

const shared = () => sources().filter(({ path }) => roomOf(path) === 'shared');

/**
 * What the trade's calculations may stand on: schemas, calendar and maths; and CSV as text in, text out. The solver
 * reads its own WebAssembly when it is loaded and looks at the clock for its time limit; nothing else. The calendar of
 * holidays is a table and its arithmetic, the countries' regions are a table.
 */
const pureLibraries =
  /^(zod|date-fns|d3-[a-z]+)(\/|$)|^csv-(parse|stringify)\/sync$|^highs$|^date-holidays$|^iso-3166$/;

const impureNames = new Set([
  'process',
  'fetch',
  'setTimeout',
  'setInterval',
  'setImmediate',
  'queueMicrotask',
  'performance',
  'crypto',
  'document',
  'window',
  'globalThis',
  'console',
  'require',
]);

const nameOf = (node: Node | null | undefined) => (node?.type === 'Identifier' ? node.name : undefined);

/** Reads of the clock, of chance and of the world. */
function impurities({ path, text, parsed }: Source): string[] {
  const found: string[] = [];
  const report = (node: { start: number }, what: string) =>
    found.push(`${path}:${lineAt(text, node.start)} ${what}`);
  const clockless = (node: NewExpression) => nameOf(node.callee) === 'Date' && node.arguments.length === 0;
  new Visitor({
    NewExpression(node) {
      if (clockless(node)) report(node, 'new Date() without an argument');
    },
    CallExpression(node) {
      if (nameOf(node.callee) === 'Date') report(node, 'Date() reads the clock');
    },
    MemberExpression(node) {
      const object = nameOf(node.object);
      const property = node.property.type === 'Identifier' ? node.property.name : '';
      if (object === 'Date' && property === 'now') report(node, 'Date.now reads the clock');
      if (object === 'Math' && property === 'random') report(node, 'Math.random is not repeatable');
      if (object && impureNames.has(object)) report(node, `${object} is outside`);
    },
    'CallExpression:exit'(node) {
      const name = nameOf(node.callee);
      if (name && impureNames.has(name)) report(node, `${name} is outside`);
    },
  } as ConstructorParameters<typeof Visitor>[0]).visit(parsed.program);
  return found;
}

describe('shared/', () => {
  it('imports nothing but itself and libraries as pure as it is', () => {
    const wrong = shared()
      .flatMap(importsOf)
      .filter(({ to, isOurs }) => !isOurs && !pureLibraries.test(to));
    expect(wrong.map(({ from, to }) => `${from} imports ${to}`)).toEqual([]);
  });

  it('reads neither clock nor chance nor the world', () => {
    expect(shared().flatMap(impurities)).toEqual([]);
  });

  it('would be caught if it did', () => {
    const text =
      'const a = Date.now(); const b = new Date(); const c = Math.random(); const d = process.env.X; fetch("x"); const e = new Date(0);';
    const source = { path: 'shared/x.ts', text, parsed: parse(text) };
    expect(impurities(source)).toHaveLength(5);
  });
});

function parse(text: string) {
  return parseSync('x.ts', text);
}
