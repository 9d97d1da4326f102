import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type ParseResult, parseSync } from 'oxc-parser';

export const root = fileURLToPath(new URL('../..', import.meta.url));

export const rooms = ['shared', 'views', 'server', 'ops', 'tests'] as const;

export type Source = { path: string; text: string; parsed: ParseResult };

export function filesUnder(folder: string, matches: RegExp): string[] {
  if (!existsSync(join(root, folder))) return [];
  return readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && matches.test(entry.name))
    .map((entry) => relative(root, join(entry.parentPath, entry.name)))
    .sort();
}

let read: Source[] | null = null;

/** Every TypeScript and JavaScript file of ours, parsed. */
export function sources(): Source[] {
  read ??= rooms
    .flatMap((room) => filesUnder(room, /\.(tsx?|mts|mjs)$/))
    .map((path) => {
      const text = readFileSync(join(root, path), 'utf8');
      const parsed = parseSync(path, text);
      const [fault] = parsed.errors;
      if (fault) throw new Error(`${path} cannot be parsed: ${fault.message}`);
      return { path, text, parsed };
    });
  return read;
}

export const roomOf = (path: string) => path.split('/', 1)[0] ?? '';

export type Import = { from: string; to: string; isOurs: boolean };

/** What a file imports: of ours as a path from the root, else as it is written. Types count too. */
export function importsOf({ path, text, parsed }: Source): Import[] {
  const { staticImports, staticExports, dynamicImports } = parsed.module;
  const written = [
    ...staticImports.map((entry) => entry.moduleRequest.value),
    ...staticExports.flatMap((entry) => entry.entries.flatMap((one) => one.moduleRequest?.value ?? [])),
    ...dynamicImports.flatMap((entry) => {
      const said = text.slice(entry.moduleRequest.start, entry.moduleRequest.end);
      return /^(['"]).*\1$/.test(said) ? said.slice(1, -1) : [];
    }),
  ];
  return [...new Set(written)].map((to) =>
    to.startsWith('.')
      ? { from: path, to: join(dirname(path), to), isOurs: true }
      : { from: path, to, isOurs: false },
  );
}

export const lineAt = (text: string, offset: number) => text.slice(0, offset).split('\n').length;
