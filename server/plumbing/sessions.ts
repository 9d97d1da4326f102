import { createHash, randomBytes } from 'node:crypto';
import { DrizzleSQLiteAdapter } from '@lucia-auth/adapter-drizzle';
import { and, eq, ne } from 'drizzle-orm';
import { type Adapter, Cookie, type DatabaseSession, Lucia, TimeSpan } from 'lucia';
import { people, sessions } from '../schema/tables.ts';
import type { Clock } from './clock.ts';
import { type CookieSettings, cookieOf } from './cookies.ts';
import { inPassing } from './database-faults.ts';
import type { Db } from './open-database.ts';

export type Person = {
  id: string;
  signInName: string;
  name: string;
  role: 'owner' | 'helper';
  active: boolean;
  scheme: 'system' | 'light' | 'dark';
};

type Attributes = { madeAt: number; device: string; usedAt: number | null };

declare module 'lucia' {
  interface Register {
    Lucia: Lucia<Attributes, Omit<Person, 'id'>>;
    DatabaseUserAttributes: Omit<Person, 'id'>;
    DatabaseSessionAttributes: Attributes;
  }
}

export const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');

/** A value nobody can guess: 256 bits. */
export const freshToken = () => randomBytes(32).toString('base64url');

/**
 * The library stores the cookie's value as it is; this keeps only its SHA-256 in the database. It also takes the
 * time from the machine; here its instants are moved to our clock when stored and back when read.
 */
class GuardedSessions implements Adapter {
  constructor(
    private readonly inner: Adapter,
    private readonly clock: Clock,
  ) {}
  private ourTime = (theirs: Date) => new Date(theirs.getTime() - Date.now() + this.clock.now());
  private theirTime = (ours: Date) => new Date(ours.getTime() - this.clock.now() + Date.now());
  deleteSession = (id: string) => this.inner.deleteSession(sha256(id));
  deleteUserSessions = (userId: string) => this.inner.deleteUserSessions(userId);
  deleteExpiredSessions = () => this.inner.deleteExpiredSessions();
  getUserSessions = (userId: string) => this.inner.getUserSessions(userId);
  setSession = (session: DatabaseSession) =>
    this.inner.setSession({
      ...session,
      id: sha256(session.id),
      expiresAt: this.ourTime(session.expiresAt),
    });
  /** In passing of a page that is only read: while nothing can be written it lives on as long as it did. */
  updateSessionExpiration = async (id: string, at: Date) => {
    await this.inner.updateSessionExpiration(sha256(id), this.ourTime(at)).catch((error: unknown) =>
      inPassing(() => {
        throw error;
      }),
    );
  };
  async getSessionAndUser(id: string): ReturnType<Adapter['getSessionAndUser']> {
    const [session, user] = await this.inner.getSessionAndUser(sha256(id));
    if (!session || !user) return [null, null];
    return [{ ...session, id, expiresAt: this.theirTime(session.expiresAt) }, user];
  }
}

const msPerDay = 86_400_000;
/** A session ends after 30 days without a visit, and after 90 days whatever happens. */
const visitMs = 6 * 60_000;
export const sessionDays = { idle: 30, longest: 90 } as const;
/** Clocks are put right by hours, or by a day. */
export const aheadMs = 2 * msPerDay;

/** In a transaction of the change that makes it needed: a new role, a new password, a deactivated account. */
export function endSessionsOf(tx: Db, personId: string, except: string | null = null): number {
  const theirs = eq(sessions.userId, personId);
  const done = tx
    .delete(sessions)
    .where(except ? and(theirs, ne(sessions.id, except)) : theirs)
    .run();
  return done.changes;
}

/** Notes a visit every six minutes at most, and where nothing can be written not at all: a page does not wait for it. */
function visitsTo(db: Db, clock: Clock) {
  const noted = new Map<string, number>();
  return (id: string, usedAt: number) => {
    const now = clock.now();
    if (Math.abs(now - Math.max(usedAt, noted.get(id) ?? 0)) < visitMs) return;
    if (noted.size > 5_000) noted.clear();
    noted.set(id, now);
    inPassing(() => db.update(sessions).set({ usedAt: now }).where(eq(sessions.id, id)).run());
  };
}

/** One that ends while nothing can be written is dead for everybody from then on, until its row can go. */
function endings(db: Db) {
  const meanwhile = new Set<string>();
  const end = (hashedId: string): boolean => {
    let ended = false;
    const isWritten = inPassing(() => {
      ended = db.delete(sessions).where(eq(sessions.id, hashedId)).run().changes === 1;
    });
    if (isWritten) meanwhile.delete(hashedId);
    else meanwhile.add(hashedId);
    return ended;
  };
  const isEnded = (hashedId: string): boolean => {
    const isDead = meanwhile.has(hashedId);
    if (isDead) end(hashedId);
    return isDead;
  };
  return { end, isEnded };
}

const rowFor = (token: string, userId: string, device: string, now: number) => ({
  id: sha256(token),
  userId,
  expiresAt: Math.floor((now + sessionDays.idle * msPerDay) / 1000),
  madeAt: now,
  usedAt: now,
  device: device.slice(0, 200),
});

/** As a service on the machine itself has it, whose address nobody has named. */
const atHome: CookieSettings = { secureCookies: false, basePath: '' };

/** The cookie anew where the session lives longer by now. */
type Found = { person: Person; cookie: string | null; id: string };

export type Sessions = ReturnType<typeof makeSessions>;

/** The only file that knows the session library. */
export function makeSessions(db: Db, clock: Clock, settings: CookieSettings = atHome) {
  // The adapter's types want a promise-based or sync driver of its own kind; ours is the sync one.
  const adapter = new DrizzleSQLiteAdapter(db as never, sessions as never, people as never);
  const lucia = new Lucia(new GuardedSessions(adapter, clock), {
    sessionExpiresIn: new TimeSpan(sessionDays.idle, 'd'),
    sessionCookie: cookieOf('broodbench', settings),
    getUserAttributes: ({ signInName, name, role, active, scheme }) => ({
      signInName,
      name,
      role,
      active,
      scheme,
    }),
    getSessionAttributes: ({ madeAt, device, usedAt }) => ({ madeAt, device, usedAt }),
  });

  const noteVisit = visitsTo(db, clock);
  const { end, isEnded } = endings(db);
  const device = cookieOf('broodbench-device', settings);

  return {
    cookieName: lucia.sessionCookieName,
    blankCookie: () => lucia.createBlankSessionCookie().serialize(),
    async find(token: string | undefined): Promise<Found | null> {
      if (!token || token.length > 100) return null;
      const { session, user } = await lucia.validateSession(token);
      if (!session || !user.active) return null;
      if (clock.now() - session.madeAt > sessionDays.longest * msPerDay) return null;
      // Made by a clock that was ahead, it would outlive what a session may.
      if (session.madeAt - clock.now() > aheadMs) return null;
      const cookie = session.fresh ? lucia.createSessionCookie(session.id).serialize() : null;
      const id = sha256(session.id);
      if (isEnded(id)) return null;
      noteVisit(id, session.usedAt ?? 0);
      return { person: user, cookie, id };
    },
    /**
     * A new session has a new value: one that was known before sign-in opens nothing. Written here and not by the library,
     * which would only do so later, so that it belongs to the transaction of whoever asks.
     */
    begin(personId: string, from: string, token = freshToken()): string {
      db.insert(sessions)
        .values(rowFor(token, personId, from, clock.now()))
        .run();
      return lucia.createSessionCookie(token).serialize();
    },
    /** The cookie once more of a session that still stands; null where there is none of this person's. */
    cookieOf(token: string, personId: string): string | null {
      const which = and(eq(sessions.id, sha256(token)), eq(sessions.userId, personId));
      const stands = db.select({ id: sessions.id }).from(sessions).where(which).get() !== undefined;
      return stands ? lucia.createSessionCookie(token).serialize() : null;
    },
    end,
    /** Tells a browser that somebody has signed in from before from one that nobody knows. */
    deviceCookieName: device.name,
    deviceCookie: (token: string) =>
      new Cookie(device.name, token, { ...device.attributes, maxAge: 400 * 86_400 }).serialize(),
  };
}
