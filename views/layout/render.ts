import './base-path.ts';
import './safe-links.ts';
import type { JSX } from 'preact';
import { renderToString } from 'preact-render-to-string';

/** A whole page as HTML. */
export function renderPage(page: JSX.Element): string {
  return `<!doctype html>\n${renderToString(page)}`;
}

/** A part of a page as HTML, for htmx to swap in. Several parts (out of band) can follow one another. */
export function renderPart(...parts: JSX.Element[]): string {
  return parts.map((part) => renderToString(part)).join('\n');
}
