import { readFileSync } from 'node:fs';
import { filesUnder } from '../architecture/sources.ts';
import { formsOn, linksOn, type PageForm } from './page-parts.ts';
import { gets, posts, type Walk } from './walk.ts';

const patternOf = (path: string) =>
  new RegExp(`^${path.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replace(/:\w+/g, '[^/]+')}$`);

export type Names = {
  /** Of parameters in addresses: in links and forms of pages, and in the sources. */
  query: readonly string[];
  /** Of fields: in forms of pages, and in the sources' schemas. */
  fields: readonly string[];
  /** Forms that stand on the pages of a bench, by the path of the route they are sent to. */
  forms: ReadonlyMap<string, readonly PageForm[]>;
};

const matchesIn = (texts: readonly string[], pattern: RegExp) =>
  texts.flatMap((text) => [...text.matchAll(pattern)].map((found) => found[1] ?? ''));

/**
 * What a bench could be asked with, found by reading its pages and its sources, so that a new page, parameter or field
 * is asked for without anybody naming it.
 */
export function knownNames(
  t: Walk,
  kind: 'as usual' | 'sends mails' | 'in a room' = 'as usual',
): Promise<Names> {
  const names = known.get(kind) ?? read(t);
  known.set(kind, names);
  return names;
}

/** Every furnished bench of a kind has the same pages to the letter, so they are read once. */
const known = new Map<string, Promise<Names>>();

async function read(t: Walk): Promise<Names> {
  const query = new Set<string>();
  const fields = new Set<string>();
  const forms = new Map<string, PageForm[]>();
  const routes = posts(t).map(({ path }) => ({ path, pattern: patternOf(path) }));
  for (const address of gets(t).filter(({ path }) => !/\.(pdf|csv|jpg|tar|ics)$|^\/static/.test(path))) {
    const path = t.at(address);
    const { text, headers } = await t.owner.get(path);
    if (!headers['content-type']?.startsWith('text/html')) continue;
    for (const { searchParams } of linksOn(text, path))
      for (const name of searchParams.keys()) query.add(name);
    for (const form of formsOn(text, path)) {
      for (const name of form.query.keys()) query.add(name);
      for (const name of Object.keys(form.fields)) (form.method === 'get' ? query : fields).add(name);
      const route = routes.find(({ pattern }) => pattern.test(form.action));
      if (form.method === 'post' && route) forms.set(route.path, [...(forms.get(route.path) ?? []), form]);
    }
  }
  const sources = ['server', 'shared'].flatMap((room) =>
    filesUnder(room, /\.ts$/).map((path) => readFileSync(`${room}/${path.slice(room.length + 1)}`, 'utf8')),
  );
  for (const name of matchesIn(sources, /\bquery(?:\?)?\.(\w+)/g)) query.add(name);
  for (const name of matchesIn(sources, /\bbody(?:\?)?\.(\w+)/g)) fields.add(name);
  const shapes = sources.filter((text) => text.includes('z.object('));
  for (const name of matchesIn(shapes, /^ {2}(\w+)(?:,|: )/gm)) fields.add(name);
  for (const name of ['_csrf', 'formKey']) fields.delete(name);
  return { query: [...query].sort(), fields: [...fields].sort(), forms };
}
