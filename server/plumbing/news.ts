import type { Db } from './open-database.ts';

/** What changed, for whoever looks at the same page elsewhere; plain data. */
export type News = {
  topic: 'round';
  /** Codes of the cultures it is about. */
  about: readonly string[];
};
type Listener = (news: News) => void;

/** Within this process only: one installation is one process. */
const listeners = new WeakMap<Db, Set<Listener>>();

/** Says that something changed. Call it after the change is stored. */
export function tellNews(db: Db, news: News) {
  for (const listener of listeners.get(db) ?? []) listener(news);
}

/** Calls `listener` for every piece of news until what it returns is called. */
export function hearNews(db: Db, listener: Listener): () => void {
  const all = listeners.get(db) ?? new Set<Listener>();
  listeners.set(db, all.add(listener));
  return () => all.delete(listener);
}
