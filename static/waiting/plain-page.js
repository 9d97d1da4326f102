// Worker: a page of our own where neither the network nor a kept copy has one.

import { at } from './at.js';

export const htmlOf = (text) =>
  String(text).replace(
    /[&<>"]/g,
    (sign) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[sign],
  );

/** As strict as that of the server's pages. */
const policy = {
  'content-security-policy':
    "default-src 'none';script-src 'self';style-src 'self';img-src 'self';font-src 'self';connect-src 'self';form-action 'self';base-uri 'none';frame-ancestors 'none'",
};

/** Beside this one, under the same version. */
const ownModule = new URL('page.js', import.meta.url).pathname;

const styles = ['tokens', 'base', 'frame', 'button', 'components', 'page', 'waiting'];

/** Sends the same once more: the form's own fields, unseen. */
const formOf = ({ action, fields }) =>
  `<form class="form" method="post" action="${htmlOf(action)}">${fields
    .map(([name, value]) => `<input type="hidden" name="${htmlOf(name)}" value="${htmlOf(value)}">`)
    .join('')}<button class="button button-main">Send it again</button></form>`;

export function pageOf({ title, sentences, status = 200, typed = [], form = null, links = [] }) {
  const listed = typed.map(([name, value]) => `<li>${htmlOf(name)}: ${htmlOf(value)}</li>`).join('');
  const html = `<!doctype html>
<html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="color-scheme" content="light dark"><title>${htmlOf(title)}</title>
${styles.map((name) => `<link rel="stylesheet" href="${at(`/static/${name}.css`)}">`).join('\n')}
</head><body class="page page-signed-out">
<header class="top"><a class="business" href="${at('/round')}">Round</a><div id="kept-count" class="kept-count" role="status"></div></header>
<main id="main" class="main main-narrow"><header class="page-head"><h1>${htmlOf(title)}</h1></header>
${sentences.map((sentence) => `<p>${htmlOf(sentence)}</p>`).join('\n')}
${listed ? `<h2>What you typed</h2><ul>${listed}</ul>` : ''}
${form ? formOf(form) : ''}
${links.length > 0 ? `<p class="actions">${links.map(([href, label]) => `<a class="button button-plain" href="${htmlOf(at(href))}">${htmlOf(label)}</a>`).join(' ')}</p>` : ''}
</main><script type="module" src="${ownModule}"></script></body></html>`;
  return new Response(html, { status, headers: { 'content-type': 'text/html; charset=utf-8', ...policy } });
}
