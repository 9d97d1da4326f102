import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import type { Furniture } from '../../views/layout/furniture.ts';
import { sessions } from '../schema/tables.ts';
import type { Business } from './call.ts';
import { inPassing } from './database-faults.ts';
import type { Db } from './open-database.ts';
import type { Person } from './sessions.ts';

export type Notice = NonNullable<Furniture['notice']>;

/** A notice waits in the session until the next page shows it, so that it survives the redirect after a form. */
export function leaveNotice(db: Db, sessionId: string, notice: Notice) {
  db.update(sessions)
    .set({ notice: JSON.stringify(notice) })
    .where(eq(sessions.id, sessionId))
    .run();
}

function takeNotice(db: Db, sessionId: string): Notice | null {
  const row = db.select({ notice: sessions.notice }).from(sessions).where(eq(sessions.id, sessionId)).get();
  if (!row?.notice) return null;
  inPassing(() => db.update(sessions).set({ notice: null }).where(eq(sessions.id, sessionId)).run());
  return JSON.parse(row.notice) as Notice;
}

/** What every page carries: made here and nowhere else. */
export function makeFurniture(o: {
  db: Db;
  business: Business;
  who: Person | null;
  sessionId: string | null;
  nav: string;
  csrfToken: string;
  assetVersion: string;
  /** Only a whole page shows the waiting notice. */
  showsNotice: boolean;
  /** What stands on every page of whoever it is. */
  warnings: (who: Person | null) => Furniture['warnings'];
}): Furniture {
  return {
    businessName: o.business.name,
    who: o.who ? { name: o.who.name, role: o.who.role } : null,
    nav: o.nav,
    csrfToken: o.csrfToken,
    formKey: randomUUID(),
    notice: o.showsNotice && o.sessionId ? takeNotice(o.db, o.sessionId) : null,
    scheme: o.who?.scheme ?? 'system',
    assetVersion: o.assetVersion,
    locale: o.business.locale,
    units: o.business.units,
    warnings: o.warnings(o.who),
  };
}
