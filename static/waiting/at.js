// The service may live under a path of its host, like /bench. All modules say addresses as if it stood at the root, as
// the server does inside; `at` puts the path in front where the browser asks, `inside` takes it off where it tells.

/** The path, without a slash at its end: '/bench', or '' at the root. */
export const base = new URL('../..', import.meta.url).pathname.replace(/\/$/, '');

export const at = (path) => base + path;

/** An address of the service as it is inside; one of the same host beside the service begins with no slash. */
export const inside = (pathname) => (pathname.startsWith(`${base}/`) ? pathname.slice(base.length) : '');

/** Stores, locks and channels are those of the whole host, so each service there needs names of its own. */
export const named = (name) => (base === '' ? name : `${name} ${base}`);
