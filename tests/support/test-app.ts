import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../server/app.ts';
import { readConfig } from '../../server/config.ts';
import type { Keeper } from '../../server/plumbing/backups.ts';
import { migrate } from '../../server/plumbing/migrate.ts';
import { type Opened, wrapDatabase } from '../../server/plumbing/open-database.ts';
import type { Pause, Pausing } from '../../server/plumbing/pause.ts';
import { makeSessions } from '../../server/plumbing/sessions.ts';
import { Database } from '../../server/plumbing/sqlite-driver.ts';
import { people } from '../../server/schema/tables.ts';
import { saveBusiness } from '../../server/settings/queries.ts';
import { closeAtEnd } from './leaving.ts';
import { Visitor } from './visitor.ts';

/** Noon in Berlin on a Wednesday; every test starts here and moves the clock itself. */
export const testNow = Date.UTC(2026, 10, 25, 11, 0, 0);
export const testToday = '2026-11-25';

export class TestClock {
  at = testNow;
  now = () => this.at;
  forward(days: number) {
    this.at += days * 86_400_000;
  }
}

/** Nothing is written while a test says so. */
class TestPausing implements Pausing {
  pause: Pause | null = null;
  now = () => this.pause;
  isSettled = () => false;
}

/** The fixed cast. Nobody signs in with a password here: sign-in has tests of its own. */
export const cast = {
  owner: { id: 'person-owner', signInName: 'owner', name: 'Olive Owner', role: 'owner' },
  helper: { id: 'person-helper', signInName: 'helper', name: 'Hal Helper', role: 'helper' },
} as const;

let bare: Buffer | null = null;
let furnished: Buffer | null = null;

/** Migrated once, then copied from memory: a fresh database for each test in a fraction of a millisecond. */
function bareDatabase(): Opened {
  if (!bare) {
    const { sqlite } = wrapDatabase(new Database(':memory:'));
    migrate(sqlite, testNow);
    bare = sqlite.serialize();
    sqlite.close();
  }
  return wrapDatabase(new Database(bare));
}

/** The same with a business and the cast. */
function freshDatabase(): Opened {
  if (!furnished) {
    const { sqlite, db } = bareDatabase();
    saveBusiness(
      db,
      {
        name: 'Test Bench',
        address: '1 Example Lane\nExampletown',
        email: 'bench@example.org',
        country: 'DE',
        timeZone: 'Europe/Berlin',
        currency: 'EUR',
        locale: 'en-GB',
        units: 'metric',
        paper: 'A4',
        language: 'en',
      },
      testNow,
    );
    for (const person of Object.values(cast)) {
      db.insert(people)
        .values({ ...person, passwordHash: 'none', active: true, scheme: 'system', madeAt: testNow })
        .run();
    }
    furnished = sqlite.serialize();
    sqlite.close();
  }
  return wrapDatabase(new Database(furnished));
}

export type BareApp = Opened & {
  app: FastifyInstance;
  clock: TestClock;
  pausing: TestPausing;
  outsider: Visitor;
};
export type TestApp = BareApp & { owner: Visitor; helper: Visitor };

async function appOver(
  opened: Opened,
  env: NodeJS.ProcessEnv,
  keeper: Keeper | null = null,
): Promise<BareApp> {
  const clock = new TestClock();
  const config = { ...readConfig(env), logLevel: 'silent' as const, dataDir: '/nonexistent' };
  const pausing = new TestPausing();
  const app = await buildApp({ ...opened, config, clock, pausing, keeper });
  await app.ready();
  const made = { ...opened, app, clock, pausing, outsider: new Visitor(app, null) };
  closeAtEnd(async () => {
    await app.close();
    opened.sqlite.close();
  });
  return made;
}

/** Before anybody has set anything up. */
export const bareApp = (env: NodeJS.ProcessEnv = {}) => appOver(bareDatabase(), env);

/** With a business and the cast; `env` as main would read it. Backups are only made where there is a keeper. */
export async function testApp(env: NodeJS.ProcessEnv = {}, keeper: Keeper | null = null): Promise<TestApp> {
  const made = await appOver(freshDatabase(), env, keeper);
  const sessions = makeSessions(made.db, made.clock, readConfig(env));
  const signedIn = async (id: string) => new Visitor(made.app, await sessions.begin(id, 'test'));
  return { ...made, owner: await signedIn(cast.owner.id), helper: await signedIn(cast.helper.id) };
}
