import { createHash } from 'node:crypto';
import { DrizzleSQLiteAdapter } from '@lucia-auth/adapter-drizzle';
import { eq } from 'drizzle-orm';
import { type Adapter, type DatabaseSession, Lucia, TimeSpan } from 'lucia';
import { people, sessions } from '../schema/tables.ts';
import type { Clock } from './clock.ts';
import type { Db } from './open-database.ts';

export type Person = {
  id: string;
  signInName: string;
  name: string;
  role: 'owner' | 'helper';
  active: boolean;
  scheme: 'system' | 'light' | 'dark';
};

declare module 'lucia' {
  interface Register {
    Lucia: Lucia<{ madeAt: number; device: string }, Omit<Person, 'id'>>;
    DatabaseUserAttributes: Omit<Person, 'id'>;
    DatabaseSessionAttributes: { madeAt: number; device: string };
  }
}

export const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');

/** The library stores the cookie's value as it is; this keeps only its SHA-256 in the database. */
class HashedIds implements Adapter {
  constructor(private readonly inner: Adapter) {}
  deleteSession = (id: string) => this.inner.deleteSession(sha256(id));
  deleteUserSessions = (userId: string) => this.inner.deleteUserSessions(userId);
  deleteExpiredSessions = () => this.inner.deleteExpiredSessions();
  getUserSessions = (userId: string) => this.inner.getUserSessions(userId);
  setSession = (session: DatabaseSession) => this.inner.setSession({ ...session, id: sha256(session.id) });
  updateSessionExpiration = (id: string, at: Date) => this.inner.updateSessionExpiration(sha256(id), at);
  async getSessionAndUser(id: string): ReturnType<Adapter['getSessionAndUser']> {
    const [session, user] = await this.inner.getSessionAndUser(sha256(id));
    return session && user ? [{ ...session, id }, user] : [null, null];
  }
}

export type Sessions = ReturnType<typeof makeSessions>;

/** The only file that knows the session library. */
export function makeSessions(db: Db, clock: Clock, secureCookies: boolean) {
  // The adapter's types want a promise-based or sync driver of its own kind; ours is the sync one.
  const adapter = new DrizzleSQLiteAdapter(db as never, sessions as never, people as never);
  const lucia = new Lucia(new HashedIds(adapter), {
    sessionExpiresIn: new TimeSpan(30, 'd'),
    sessionCookie: {
      name: secureCookies ? '__Host-broodbench' : 'broodbench',
      attributes: { secure: secureCookies, sameSite: 'lax', path: '/' },
    },
    getUserAttributes: ({ signInName, name, role, active, scheme }) => ({
      signInName,
      name,
      role,
      active,
      scheme,
    }),
    getSessionAttributes: ({ madeAt, device }) => ({ madeAt, device }),
  });

  return {
    cookieName: lucia.sessionCookieName,
    blankCookie: () => lucia.createBlankSessionCookie().serialize(),
    async find(
      token: string | undefined,
    ): Promise<{ person: Person; cookie: string | null; id: string } | null> {
      if (!token || token.length > 100) return null;
      const { session, user } = await lucia.validateSession(token);
      if (!session || !user.active) return null;
      const cookie = session.fresh ? lucia.createSessionCookie(session.id).serialize() : null;
      return { person: user, cookie, id: sha256(session.id) };
    },
    /** A new session has a new value: one that was known before sign-in opens nothing. */
    async begin(personId: string, device: string): Promise<string> {
      const session = await lucia.createSession(personId, {
        madeAt: clock.now(),
        device: device.slice(0, 200),
      });
      return lucia.createSessionCookie(session.id).serialize();
    },
    end: (hashedId: string) => db.delete(sessions).where(eq(sessions.id, hashedId)).run(),
    endAll: (personId: string) => lucia.invalidateUserSessions(personId),
    endExpired: () => lucia.deleteExpiredSessions(),
  };
}
