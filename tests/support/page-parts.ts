import { type DefaultTreeAdapterMap, parse, parseFragment } from 'parse5';

type Node = DefaultTreeAdapterMap['node'];
type Element = DefaultTreeAdapterMap['element'];

function* elementsUnder(node: Node): Generator<Element> {
  if ('tagName' in node) yield node;
  if ('content' in node) yield* elementsUnder(node.content);
  if (!('childNodes' in node)) return;
  for (const child of node.childNodes) yield* elementsUnder(child);
}

/** Every element of a page or of a part of one, as a browser reads it (the HTML Standard, 13.2). */
export const elementsOf = (html: string): Element[] => [
  ...elementsUnder(/^\s*<!doctype/i.test(html) ? parse(html) : parseFragment(html)),
];

export const attribute = (element: Element, name: string) =>
  element.attrs.find((one) => one.name === name)?.value;

/** Elements with the names of their attributes, counted: two pages that differ in text alone are alike. */
export function shapeOf(html: string): Record<string, number> {
  const shape: Record<string, number> = {};
  for (const { tagName, attrs } of elementsOf(html)) {
    const names = attrs.map(({ name }) => name).sort();
    const key = `<${[tagName, ...names].join(' ')}>`;
    shape[key] = (shape[key] ?? 0) + 1;
  }
  return shape;
}

const withAddress = new Set(['href', 'src', 'action', 'formaction', 'poster', 'data', 'xlink:href']);
const runs = /^(javascript|vbscript|data:(?!image\/))/i;

function tracesOf({ tagName, attrs }: Element): string[] {
  const found: string[] = [];
  if (tagName.startsWith('xss-mark') || ['iframe', 'base', 'style', 'object', 'embed'].includes(tagName))
    found.push(`<${tagName}>`);
  if (tagName === 'script' && !attrs.some(({ name }) => name === 'src')) found.push('<script>');
  if (tagName === 'meta' && attrs.some(({ name }) => name === 'http-equiv')) found.push('<meta http-equiv>');
  for (const { name, value } of attrs) {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: browsers leave these out of an address
    const address = value.replace(/[\u0000-\u0020]/g, '');
    if (/^on|^srcdoc$|^style$|[<"'`]/.test(name)) found.push(`<${tagName} ${name}>`);
    else if (withAddress.has(name) && (runs.test(address) || /^[\\/]{2}/.test(address)))
      found.push(`<${tagName} ${name}=${value}>`);
  }
  return found;
}

/** What stands on a page that no page of ours has: something that came from data and became markup. */
export const tracesIn = (html: string): string[] => elementsOf(html).flatMap(tracesOf);

export type PageForm = {
  method: 'get' | 'post';
  /** Without what follows the path. */
  action: string;
  query: URLSearchParams;
  files: boolean;
  /** What the form would send as it stands: the first of each choice where none is chosen. */
  fields: Record<string, string | string[]>;
  /** The page it stands on. */
  page: string;
  /** What a browser sends of it when nothing is touched. */
  untouched: Record<string, string | string[]>;
  /** Of fields that can be seen: what may be chosen, or null where one types. */
  seen: Record<string, string[] | null>;
};

function add(fields: PageForm['fields'], name: string, value: string) {
  const before = fields[name];
  fields[name] = before === undefined ? value : [...[before].flat(), value];
}

function optionOf(select: Element): string {
  const options = [...elementsUnder(select)].filter(({ tagName }) => tagName === 'option');
  const chosen =
    options.find((one) => attribute(one, 'selected') !== undefined) ??
    options.find((one) => attribute(one, 'value')) ??
    options[0];
  return (chosen && attribute(chosen, 'value')) ?? '';
}

function fieldsOf(elements: readonly Element[]): PageForm['fields'] {
  const fields: PageForm['fields'] = Object.create(null);
  for (const one of elements) {
    const name = attribute(one, 'name');
    if (!name || ['_csrf', 'formKey'].includes(name) || attribute(one, 'disabled') !== undefined) continue;
    const type = attribute(one, 'type') ?? '';
    const checked = attribute(one, 'checked') !== undefined;
    if (one.tagName === 'select') add(fields, name, optionOf(one));
    else if (one.tagName === 'textarea')
      add(fields, name, one.childNodes.map((child) => ('value' in child ? child.value : '')).join(''));
    else if (type === 'radio') {
      if (checked || fields[name] === undefined) fields[name] = attribute(one, 'value') ?? 'on';
    } else if (type === 'checkbox' ? checked : type !== 'file' && type !== 'submit')
      add(fields, name, attribute(one, 'value') ?? '');
    else if (one.tagName === 'button' || type === 'checkbox') fields[name] ??= '';
  }
  return fields;
}

function untouchedOf(elements: readonly Element[]): PageForm['fields'] {
  const fields = fieldsOf(elements.filter(({ tagName }) => tagName !== 'button'));
  for (const one of elements) {
    const name = attribute(one, 'name');
    if (!name || fields[name] === undefined) continue;
    const options = [...elementsUnder(one)].filter(({ tagName }) => tagName === 'option');
    const [first] = options;
    if (one.tagName === 'select' && !options.some((option) => attribute(option, 'selected') !== undefined))
      fields[name] = (first && attribute(first, 'value')) ?? '';
    if (['checkbox', 'radio'].includes(attribute(one, 'type') ?? '') && fields[name] === '')
      delete fields[name];
  }
  return fields;
}

function seenOf(elements: readonly Element[]): PageForm['seen'] {
  const seen: PageForm['seen'] = Object.create(null);
  for (const one of elements) {
    const name = attribute(one, 'name');
    const type = attribute(one, 'type') ?? '';
    if (!name || ['hidden', 'submit', 'file'].includes(type) || one.tagName === 'button') continue;
    if (attribute(one, 'disabled') !== undefined || attribute(one, 'hidden') !== undefined) continue;
    const value = attribute(one, 'value') ?? 'on';
    if (one.tagName === 'select')
      seen[name] = [...elementsUnder(one)]
        .filter(({ tagName }) => tagName === 'option')
        .map((option) => attribute(option, 'value') ?? '');
    else if (type === 'radio') seen[name] = [...(seen[name] ?? []), value];
    else if (type === 'checkbox') seen[name] = [...(seen[name] ?? ['']), value];
    else if (['input', 'textarea'].includes(one.tagName)) seen[name] = null;
  }
  return seen;
}

/** Elements that belong to a form: those within it, and those elsewhere that name it. */
const membersOf = (form: Element, all: readonly Element[]) => {
  const id = attribute(form, 'id');
  const named = id ? all.filter((one) => attribute(one, 'form') === id) : [];
  return [...elementsUnder(form), ...named];
};

/** The forms of a page, each with what it would send. */
export function formsOn(html: string, path: string): PageForm[] {
  const all = elementsOf(html);
  return all
    .filter(({ tagName }) => tagName === 'form')
    .map((form) => {
      const url = new URL(attribute(form, 'action') || path, `http://bench${path}`);
      url.searchParams.delete('_csrf');
      return {
        method: attribute(form, 'method')?.toLowerCase() === 'post' ? 'post' : 'get',
        action: url.pathname,
        query: url.searchParams,
        files: attribute(form, 'enctype') === 'multipart/form-data',
        fields: fieldsOf(membersOf(form, all)),
        untouched: untouchedOf(membersOf(form, all)),
        page: path,
        seen: seenOf(membersOf(form, all)),
      };
    });
}

/** Addresses of this host that a page leads to. */
export const linksOn = (html: string, path: string): URL[] =>
  elementsOf(html)
    .filter(({ tagName }) => tagName === 'a')
    .flatMap((link) => {
      const href = attribute(link, 'href');
      if (href === undefined || !URL.canParse(href, `http://bench${path}`)) return [];
      const url = new URL(href, `http://bench${path}`);
      return url.host === 'bench' ? [url] : [];
    });
