import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesUnder, importsOf, root, sources } from './sources.ts';

const papers = ['README.md', 'DEVELOPERS.md'];
const textOf = (file: string) => (existsSync(join(root, file)) ? readFileSync(join(root, file), 'utf8') : '');

type Package = {
  scripts: Record<string, string>;
  dependencies: Record<string, string>;
  devDependencies: Record<string, string>;
};
const pack = JSON.parse(textOf('package.json')) as Package;

/** Words set as code: `server/app.ts`, `npm run demo`, and the lines of fenced blocks. */
function saidAsCode(text: string): string[] {
  const fenced = [...text.matchAll(/^```[^\n]*\n([\s\S]*?)^```/gm)].flatMap(([, block = '']) =>
    block.split('\n'),
  );
  const inline = [...text.replace(/^```[\s\S]*?^```/gm, '').matchAll(/`([^`\n]+)`/g)].map(
    ([, code = '']) => code,
  );
  return [...fenced, ...inline].map((line) => line.trim());
}

/** Paths that begin in one of our rooms, without a line number, a glob or a placeholder. */
function pathsIn(code: string): string[] {
  const found =
    code.match(/(?<![\w/.@-])(?:server|views|migrations|static|tests|shared|ops|\.ci)\/[\w./-]*/g) ?? [];
  return found.map((path) => path.replace(/[./]+$/, ''));
}

const commandsIn = (code: string) =>
  [...code.matchAll(/\bnpm (?:-\S+ )*(?:run (?:-\S+ )*([a-z][\w:-]*)|(test|start)\b)/g)].map(
    ([, run, short]) => run ?? short ?? '',
  );

/** Where a picture or another paper is linked: [words](static/x.png). */
const linksIn = (text: string) =>
  [...text.matchAll(/\]\((?!https?:|#|mailto:)([^)#\s]+)/g)].map(([, path = '']) => path);

describe.each(papers)('%s', (paper) => {
  it('is there', () => {
    expect(existsSync(join(root, paper))).toBe(true);
  });

  it('names only paths that exist', () => {
    const text = textOf(paper);
    const named = [...saidAsCode(text).flatMap(pathsIn), ...linksIn(text)];
    expect([...new Set(named)].filter((path) => !existsSync(join(root, path)))).toEqual([]);
  });

  it('names only commands that exist', () => {
    const named = saidAsCode(textOf(paper)).flatMap(commandsIn);
    expect([...new Set(named)].filter((name) => !pack.scripts[name])).toEqual([]);
  });
});

describe('the house', () => {
  it('has its rooms and papers on top, and nothing else', () => {
    const allowed = new Set(
      'README.md DEVELOPERS.md package.json tsconfig.json LICENSE CHANGELOG.md package-lock.json biome.json vitest.config.ts server views migrations static tests shared ops'.split(
        ' ',
      ),
    );
    const ignored = new Set(
      textOf('.gitignore')
        .split('\n')
        .map((line) => line.replaceAll('/', '')),
    );
    const strays = readdirSync(root).filter(
      (name) =>
        !name.startsWith('.') && !allowed.has(name) && !ignored.has(name) && !/\.db(-\w+)?$/.test(name),
    );
    expect(strays).toEqual([]);
  });

  it('starts only scripts that are there', () => {
    const named = Object.values(pack.scripts).flatMap(
      (command) => command.match(/\b(?:server|ops)\/[\w/.-]+/g) ?? [],
    );
    expect(named.filter((path) => !existsSync(join(root, path)))).toEqual([]);
  });

  it('installs no package that nothing uses', () => {
    const packageOf = (name: string) =>
      name
        .split('/')
        .slice(0, name.startsWith('@') ? 2 : 1)
        .join('/');
    const imported = new Set(
      sources()
        .flatMap(importsOf)
        .map(({ to }) => packageOf(to)),
    );
    const told = [textOf('vitest.config.ts'), textOf('tsconfig.json'), ...Object.values(pack.scripts)].join(
      '\n',
    );
    // htmx is copied into static/; nodemailer is part
    // of the agreed ground and first used by the mails to customers.
    const otherwise = new Set(['htmx.org', 'nodemailer']);
    const byName = filesUnder('ops', /\.m?[jt]s$/)
      .map(textOf)
      .join('\n');
    const isUsed = (name: string) => {
      const typed = /^@types\/(.+)$/.exec(name)?.[1]?.replace('__', '/');
      if (typed) return typed === 'node' || imported.has(typed) || imported.has(`@${typed}`);
      return (
        imported.has(name) ||
        otherwise.has(name) ||
        told.includes(commandOf(name)) ||
        byName.includes(`'${name}`)
      );
    };
    const all = [...Object.keys(pack.dependencies), ...Object.keys(pack.devDependencies)];
    expect(all.filter((name) => !isUsed(name))).toEqual([]);
  });

  it('pins every package to one version', () => {
    const loose = Object.entries({ ...pack.dependencies, ...pack.devDependencies }).filter(
      ([, version]) => !/^(npm:[\w@/-]+@)?\d+\.\d+\.\d+(-[\w.]+)?$/.test(version),
    );
    expect(loose).toEqual([]);
  });

  it('needs at run time nothing that is only there for development', () => {
    const wrong = sources()
      .filter(({ path }) => /^(shared|views|server)\//.test(path))
      .flatMap(importsOf)
      .filter(({ to, isOurs }) => !isOurs && !to.startsWith('node:'))
      .filter(
        ({ to }) => !Object.keys(pack.dependencies).some((name) => to === name || to.startsWith(`${name}/`)),
      );
    expect(wrong.map(({ from, to }) => `${from} imports ${to}`)).toEqual([]);
  });
});

/** The word a package is called by on the command line. */
const commandOf = (name: string) => ({ typescript: 'tsc', '@biomejs/biome': 'biome' })[name] ?? name;
