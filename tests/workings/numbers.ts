import type { DefaultTreeAdapterMap } from 'parse5';
import { attribute, elementsOf } from '../support/page-parts.ts';

type Node = DefaultTreeAdapterMap['node'];
type Element = DefaultTreeAdapterMap['element'];

/** The names in an attribute that holds several, of a whole page. */
export function namesOf(html: string, name: string): string[] {
  const found = [...html.matchAll(new RegExp(`${name}="([^"]*)"`, 'g'))];
  return [...new Set(found.flatMap(([, names = '']) => names.split(' ')))].sort();
}

export const withoutMarks = (html: string, kind: string) => html.replaceAll(`data-computed="${kind}"`, '');

/** Where no number is worked out: what is asked for, codes and names, drawings (their words stand beside them). */
const silent = new Set(
  'button code input label legend nav option script select style svg textarea time title template'.split(' '),
);
const isElement = (node: Node): node is Element => 'tagName' in node;
const markOf = (element: Element) => attribute(element, 'data-computed');

const textOf = (node: Node): string =>
  'value' in node ? node.value : 'childNodes' in node ? node.childNodes.map(textOf).join('') : '';

const isAside = (element: Element) =>
  silent.has(element.tagName) ||
  attribute(element, 'data-explains') !== undefined ||
  /\b(worked-out|code|field-help|breadcrumbs|latin)\b/.test(attribute(element, 'class') ?? '');

type Found = { text: string; under: string; of: string | undefined };

/** The texts below an element, with the head or term over each, and what marks it. */
function* textsUnder(node: Node, under: string, of: string | undefined): Generator<Found> {
  if ('value' in node && node.nodeName === '#text') yield { text: node.value, under, of };
  if (isElement(node) && isAside(node)) return;
  if (!('childNodes' in node)) return;
  let term = '';
  for (const child of node.childNodes) {
    const element = isElement(child) ? child : null;
    if (element?.tagName === 'dt') term = textOf(element);
    const over = element?.tagName === 'dd' ? term : under;
    const head = element ? attribute(element, 'data-label') : undefined;
    yield* textsUnder(child, head ?? over, (element && markOf(element)) ?? of);
  }
}

const months = 'Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec';
/** Days and addresses: `4 Jan 2027, 14:05`, `2027-01-04`, `http://127.0.0.1:4780/available`. */
const noNumbers = new RegExp(
  `https?://[^\\s,]+|\\d{4}-\\d{2}-\\d{2}|\\d{1,2} (?:${months})\\w*(?: \\d{4})?(?:, \\d\\d:\\d\\d)?`,
  'g',
);
const numberPattern = /(?<![\p{L}\d_-])\d+(?:,\d{3})*(?:\.\d+)?(?![\p{L}_-]|\.\d)/gu;

/** A number on a page, with the words around it, the head or term over it, and what it is marked as. */
export type OnPage = { number: string; words: string; under: string; of: string | undefined };

function numbersOf(html: string): OnPage[] {
  const main = elementsOf(html).find(({ tagName }) => tagName === 'main');
  if (!main) return [];
  return [...textsUnder(main, '', undefined)].flatMap(({ text, under, of }) => {
    const bare = text.replace(noNumbers, (found) => ' '.repeat(found.length));
    return [...bare.matchAll(numberPattern)].map(({ 0: number, index }) => ({
      number,
      words: text.slice(Math.max(0, index - 30), index + 40).replace(/\s+/g, ' '),
      under,
      of,
    }));
  });
}

export const unmarkedNumbers = (html: string) => numbersOf(html).filter(({ of }) => of === undefined);
export const markedNumbers = (html: string) => numbersOf(html).filter(({ of }) => of !== undefined);
