import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { copyForRun, keptDatabase, type Session } from './database.ts';
import { Person } from './person.ts';
import type { World } from './roles.ts';
import { type Service, settled, startService } from './service.ts';

/** Where databases are kept between runs; LOAD_DIR names another place. */
const shelf = process.env.LOAD_DIR ?? join(tmpdir(), 'broodbench-load');

function worldIn(folder: string): World {
  const { sqlite } = openDatabase(join(folder, 'broodbench.db'), { readonly: true });
  const column = <T>(query: string) => sqlite.prepare(query).pluck().all() as T[];
  const world = {
    today: dayInZone(Date.now(), 'Europe/London'),
    codes: column<string>(
      // of a colony that must be dead nobody counts twelve animals
      `SELECT c.code FROM cultures c JOIN culture_estimates e ON e.culture_id = c.id
       WHERE c.status <> 'retired' AND c.place_id IS NOT NULL AND e.median > 0 ORDER BY c.id`,
    ),
    openOrders: column<number>(`SELECT number FROM orders WHERE state = 'confirmed'`),
    orders: column<number>('SELECT number FROM orders ORDER BY number DESC LIMIT 400'),
    invoices: column<number>(`SELECT id FROM invoices WHERE kind = 'invoice'`),
    speciesIds: column<number>('SELECT DISTINCT species_id FROM cultures'),
  };
  sqlite.close();
  return world;
}

export type Stage = { service: Service; sessions: Session[]; world: World; entries: number };

const say = (words: string) => console.log(words);

/** A service at work on a copy of the database with so many entries, settled, with everybody signed in. */
export async function openStage(
  entries: number,
  o: { name: string; settings?: Record<string, string>; nodeOptions?: readonly string[] },
): Promise<Stage> {
  const template = await keptDatabase(shelf, entries, say);
  const folder = join(shelf, `run-${o.name}`);
  const sessions = await copyForRun(template, folder);
  const world = worldIn(folder);
  const service = await startService(folder, o.settings, o.nodeOptions);
  await settled(service);
  return { service, sessions, world, entries };
}

/** What is worked out once a day begins with the first to ask; the peak comes later in the morning. */
export async function openTheDay(stages: readonly Stage[]): Promise<void> {
  for (const { service, sessions } of stages) {
    const person = new Person(service.base, sessions.find(({ role }) => role === 'owner')!);
    for (const path of ['/round', '/feeders', '/surplus']) await person.get('first of the day', path);
    person.leave();
  }
  for (const { service } of stages) await settled(service);
}

export function peopleOf(stage: Stage, role: 'helper' | 'owner', howMany: number): Person[] {
  const theirs = stage.sessions.filter((one) => one.role === role).slice(0, howMany);
  return theirs.map((session) => new Person(stage.service.base, session));
}
