import { type Node, Visitor } from 'oxc-parser';
import { describe, expect, it } from 'vitest';
import { filesUnder, lineAt, roomOf, rooms, type Source, sources } from './sources.ts';

const longestFile = 300;
/** A list of tests is read one at a time, so it may go on for longer. */
const longestTests = 400;
const longestFunction = 60;

/** Tables of data, long by nature. */
const dataFiles = new Set(['shared/species/starter-set.ts']);

const limitOf = (path: string) => (roomOf(path) === 'tests' ? longestTests : longestFile);

const lines = (text: string) => text.split('\n').length - 1;

function longFunctions({ path, text, parsed }: Source): string[] {
  const found: string[] = [];
  const measure = (node: Node & { start: number; end: number }) => {
    const length = lines(text.slice(node.start, node.end)) + 1;
    if (length > longestFunction) found.push(`${path}:${lineAt(text, node.start)} ${length} lines`);
  };
  new Visitor({
    FunctionDeclaration: measure,
    FunctionExpression: measure,
    ArrowFunctionExpression: measure,
  }).visit(parsed.program);
  return found;
}

describe('sizes', () => {
  it(`no file is longer than ${longestFile} lines`, () => {
    const long = sources()
      .filter(({ path, text }) => lines(text) > limitOf(path) && !dataFiles.has(path))
      .map(({ path, text }) => `${path}: ${lines(text)} lines`);
    expect(long).toEqual([]);
  });

  it(`no function is longer than ${longestFunction} lines, but for the tests' own lists of tests`, () => {
    const long = sources()
      .filter(({ path }) => roomOf(path) !== 'tests')
      .flatMap(longFunctions);
    expect(long).toEqual([]);
  });

  it('no folder is a drawer for whatever comes', () => {
    const drawers = rooms
      .flatMap((room) => filesUnder(room, /./))
      .filter((path) => /(^|\/)(utils?|helpers?|misc|common|lib)\//.test(path));
    expect(drawers).toEqual([]);
  });
});
