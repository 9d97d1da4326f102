import { expect, it } from 'vitest';
import { sources } from './sources.ts';

const replaces = /\bvi\.(?:mock|doMock|resetModules)\(/;

it('puts a test that replaces modules in a process of its own', () => {
  const tests = sources().filter(({ path }) => /\.test\.tsx?$/.test(path));
  const replacing = tests.filter(({ text }) => replaces.test(text)).map(({ path }) => path);
  const named = tests.map(({ path }) => path).filter((path) => path.endsWith('.apart.test.ts'));
  expect(named).not.toEqual([]);
  expect(replacing, 'files that replace modules are those named *.apart.test.ts').toEqual(named);
});
