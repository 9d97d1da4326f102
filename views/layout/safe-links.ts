import { options } from 'preact';

/**
 * Preact escapes text and attributes but lets any address through. Every element that is made passes this
 * hook: an address that could run a script, or send a form to another host, becomes a harmless one. Style
 * attributes, handlers written as text and raw HTML are mistakes of ours, never data, so they stop at once.
 */

export const blockedAddress = '#blocked';

export const linkAttributes = new Set([
  'href',
  'src',
  'xlinkhref',
  'xlink:href',
  'cite',
  'poster',
  'data',
  'ping',
]);
export const ownAttributes = new Set([
  'action',
  'formaction',
  'hx-get',
  'hx-post',
  'hx-put',
  'hx-patch',
  'hx-delete',
  'hx-push-url',
  'hx-replace-url',
]);
const evaluated = new Set(['hx-vals', 'hx-headers', 'hx-vars', 'hx-request']);
const openSchemes = new Set(['http', 'https']);
/** They open another program, so only where somebody presses: in a link's own address. */
const personalSchemes = new Set(['mailto', 'tel']);

/** Browsers drop tabs and line breaks anywhere in an address, and controls and spaces at its start. */
function asBrowserReads(address: string): string {
  let read = '';
  for (const character of address) {
    if (character > ' ' && character !== '\u007f') read += character;
  }
  return read;
}

function schemeOf(address: string): string | null {
  return /^([^/?#:]*):/.exec(address)?.[1]?.toLowerCase() ?? null;
}

export type LinkUse = 'link' | 'picture' | 'other';

/** An address a link or picture may have, or the blocked one. */
export function safeLink(address: string, use: LinkUse = 'link'): string {
  const read = asBrowserReads(address);
  const scheme = schemeOf(read);
  if (scheme === null || openSchemes.has(scheme)) return address;
  if (use === 'link' && personalSchemes.has(scheme)) return address;
  if (use === 'picture' && /^data:image\/(png|jpeg|gif|webp|svg\+xml)[;,]/i.test(read)) return address;
  return blockedAddress;
}

/** An address a form or htmx may send to: on this host only, or the blocked one. */
export function ownAddress(address: string): string {
  const read = asBrowserReads(address);
  const leavesHost = schemeOf(read) !== null || /^[/\\]{2}/.test(read);
  return leavesHost ? blockedAddress : address;
}

function useOf(type: string, key: string): LinkUse {
  if (type === 'a' && key === 'href') return 'link';
  return type === 'img' && key === 'src' ? 'picture' : 'other';
}

function guard(type: string, props: Record<string, unknown>): void {
  for (const name of Object.keys(props)) {
    const value = props[name];
    const key = name.toLowerCase();
    if (key === 'style' || key === 'dangerouslysetinnerhtml') {
      if (value != null) throw new Error(`<${type}> must not carry ${name}`);
      continue;
    }
    if (typeof value !== 'string') continue;
    if (linkAttributes.has(key)) props[name] = safeLink(value, useOf(type, key));
    else if (ownAttributes.has(key))
      props[name] = value === 'true' || value === 'false' ? value : ownAddress(value);
    else if (key === 'srcset') throw new Error(`<${type}> must not carry ${name}`);
    else if (/^on[a-z]/.test(key) || key.startsWith('hx-on'))
      throw new Error(`<${type}> must not carry ${name}`);
    else if (evaluated.has(key) && /^\s*(js|javascript):/i.test(value)) {
      throw new Error(`<${type}> must not have ${name} evaluated`);
    }
  }
}

const before = options.vnode;
options.vnode = (vnode) => {
  before?.(vnode);
  if (typeof vnode.type === 'string') guard(vnode.type, vnode.props as Record<string, unknown>);
};
