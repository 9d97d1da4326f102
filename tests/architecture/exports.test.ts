import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Source, sources } from './sources.ts';

const everything = '*';

/** What a file takes from others of ours by name, as 'path name'; `*` where it takes all. */
function takenBy({ path, text, parsed }: Source): string[] {
  const { staticImports, staticExports, dynamicImports } = parsed.module;
  const from = (to: string) => join(path, '..', to);
  const imported = staticImports.flatMap(({ moduleRequest, entries }) =>
    entries.map(({ importName }) => `${from(moduleRequest.value)} ${importName.name ?? everything}`),
  );
  const passedOn = staticExports.flatMap(({ entries }) =>
    entries.flatMap(({ moduleRequest, importName }) =>
      moduleRequest ? [`${from(moduleRequest.value)} ${importName.name ?? everything}`] : [],
    ),
  );
  const dynamic = dynamicImports.flatMap(({ moduleRequest }) => {
    const said = text.slice(moduleRequest.start, moduleRequest.end);
    return /^(['"]).*\1$/.test(said) ? [`${from(said.slice(1, -1))} ${everything}`] : [];
  });
  return [...imported, ...passedOn, ...dynamic];
}

const timesIn = (text: string, name: string) => text.match(new RegExp(`\\b${name}\\b`, 'g'))?.length ?? 0;

/** Names that a file gives to others and that nobody takes; a type may stand there for what is given with it. */
function deadOf({ path, text, parsed }: Source, taken: ReadonlySet<string>): string[] {
  // Declarations say what a plain script gives: that one is looked at itself.
  if (path.endsWith('.d.mts') || taken.has(`${path} ${everything}`)) return [];
  return parsed.module.staticExports
    .flatMap(({ entries }) => entries)
    .filter(({ exportName: { name }, isType }) => name && !(isType && timesIn(text, name) > 1))
    .map(({ exportName }) => exportName.name ?? '')
    .filter((name) => !taken.has(`${path} ${name}`))
    .map((name) => `${path}: ${name}`);
}

describe('what files give to each other', () => {
  it('is taken by somebody', () => {
    const taken = new Set(sources().flatMap(takenBy));
    expect(sources().flatMap((source) => deadOf(source, taken))).toEqual([]);
  });
});
