import type { FormState } from '../../views/layout/form-state.ts';
import type { Furniture } from '../../views/layout/furniture.ts';
import type { Config } from '../config.ts';
import type { business } from '../schema/tables.ts';
import type { Keeper } from './backups.ts';
import type { Clock } from './clock.ts';
import type { Db } from './open-database.ts';
import type { Person, Sessions } from './sessions.ts';

export type Business = typeof business.$inferSelect;
export type FormBody = Record<string, string | string[] | undefined>;
export type Upload = { field: string; fileName: string; bytes: Buffer };

/** What a handler is given: one request, already let in, with plain data. */
export type Call<Who = Person | null> = {
  db: Db;
  clock: Clock;
  config: Config;
  keeper: Keeper | null;
  sessions: Sessions;
  who: Who;
  /** SHA-256 of the session's cookie value, or null when nobody is signed in. */
  sessionId: string | null;
  business: Business;
  /** The civil day at the business now. */
  today: string;
  params: Record<string, string>;
  query: Record<string, string | undefined>;
  body: FormBody;
  uploads: Upload[];
  /** True when htmx asks for a part of a page rather than the page. */
  wantsPart: boolean;
  requestId: string;
  /** Where the client is, as far as trusted proxies tell. */
  address: string;
  device: string;
  /** The value that this browser was given at an earlier sign-in. */
  knownDevice: string | null;
  furniture: Furniture;
  log: {
    info(o: object, m: string): void;
    warn(o: object, m: string): void;
    error(o: object, m: string): void;
  };
  /**
   * Runs `work` in one write transaction and keeps its outcome under the form's key, so that the same form sent
   * again is answered with the same outcome and changes nothing. The outcome must be plain data.
   */
  once<T>(work: (tx: Db) => T): T;
  /**
   * What `once` kept when this same form was sent before, else null. Only for work that must be decided before the
   * transaction (a password is checked and hashed there) and would be decided differently the second time.
   */
  outcome<T>(): T | null;
};

export type StaffCall = Call<Person>;
export type { FormState };
