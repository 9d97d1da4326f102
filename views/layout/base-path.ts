import { options, type VNode } from 'preact';
import { linkAttributes, ownAttributes } from './safe-links.ts';

/**
 * The service may live under a path of its host (https://example.org/bench). Pages are written as if it stood at the
 * root: `href="/round"`. Where an element becomes text, every attribute that a browser reads as an address gets the
 * path in front, so no page has to think of it, and a new one cannot forget it.
 */

const addressAttributes = new Set([...linkAttributes, ...ownAttributes, 'data-live']);

/** Null outside of `under`: what is rendered there (a mail) has no place of its own. */
let base: string | null = null;

/** Each element's own attributes, as they were before a path was put in front: one may be rendered twice. */
const own = new WeakMap<object, Record<string, unknown>>();

/** An address of ours, which begins with one slash, as a browser has to ask for it. `/round` under `/bench` is `/bench/round`. */
export const at = (basePath: string, address: string): string =>
  /^\/(?![/\\])/.test(address) ? `${basePath}${address}` : address;

/** Renders with all addresses under `basePath`, such as `/bench`; the empty text for the root of the host. */
export function under<T>(basePath: string, render: () => T): T {
  const before = base;
  base = basePath;
  try {
    return render();
  } finally {
    base = before;
  }
}

function placed(props: Record<string, unknown>, basePath: string): Record<string, unknown> {
  let changed: Record<string, unknown> | null = null;
  for (const name of Object.keys(props)) {
    const value = props[name];
    if (typeof value !== 'string' || !addressAttributes.has(name.toLowerCase())) continue;
    const address = at(basePath, value);
    if (address === value) continue;
    changed ??= { ...props };
    changed[name] = address;
  }
  return changed ?? props;
}

type Hooks = typeof options & { __b?: (vnode: VNode) => void };
const hooks: Hooks = options;

// Called for each element as it becomes text (in the sources of the library it is called _diff).
const before = hooks.__b;
hooks.__b = (vnode) => {
  before?.(vnode);
  if (typeof vnode.type !== 'string') return;
  const known = own.get(vnode);
  if (known === undefined && !base) return;
  const props = known ?? (vnode.props as Record<string, unknown>);
  own.set(vnode, props);
  vnode.props = placed(props, base ?? '') as typeof vnode.props;
};
