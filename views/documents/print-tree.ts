import type { Element } from './drawing.ts';

/** The elements of a branch of the logical tree, each without its children yet. */
export function makeElements(
  doc: PDFKit.PDFDocument,
  from: Element,
  elements: Map<Element, PDFKit.PDFStructureElement>,
): void {
  const options: { alt?: string; scope?: string; bbox?: number[] } = {};
  if (from.alt !== undefined) options.alt = from.alt.replace(/[\p{Cc}\p{Cs}]/gu, ' ');
  if (from.scope !== undefined) options.scope = from.scope;
  if (from.box !== undefined) options.bbox = from.box;
  elements.set(from, doc.struct(from.tag, options));
  for (const child of from.children) makeElements(doc, child, elements);
}

/** Puts the elements of a branch into one another, once all that was painted is in them. */
export function addChildren(from: Element, elements: Map<Element, PDFKit.PDFStructureElement>): void {
  for (const child of from.children) {
    addChildren(child, elements);
    const made = elements.get(child);
    if (made) elements.get(from)?.add(made);
  }
}
