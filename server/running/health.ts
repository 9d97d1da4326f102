import type { FastifyInstance } from 'fastify';
import { oldestWaiting } from '../mails/queries-oldest.ts';
import type { Keeper } from '../plumbing/backups.ts';
import type { Clock } from '../plumbing/clock.ts';
import { databaseFaultOf } from '../plumbing/database-faults.ts';
import type { Disk } from '../plumbing/disk.ts';
import { schemaOf } from '../plumbing/migrate.ts';
import type { Opened } from '../plumbing/open-database.ts';
import type { Pausing } from '../plumbing/pause.ts';

export type HealthParts = Opened & {
  clock: Clock;
  keeper: Keeper | null;
  disk: Disk | null;
  /** Whether mails are sent at all. */
  sendsMails: boolean;
  pausing: Pausing;
};

export type Health = {
  /** Whether requests should be sent here. */
  ready: boolean;
  database: 'ok' | 'busy' | 'cannot be written' | 'damaged';
  /** Paused by whoever runs the service: pages are read as before, so requests should still be sent here. */
  writing: 'ok' | 'pausing' | 'paused';
  schema: 'ok' | 'wrong';
  disk: 'ok' | 'full';
  /** Late is for whoever watches; the service goes on. */
  mails: 'ok' | 'late' | 'off';
  backup: 'ok' | 'late' | 'off';
};

const mailLateMs = 3_600_000;
const askEveryMs = 1_000;

/** Takes the lock of writers and gives it back: nothing less says that something can be written. */
function databaseState({ sqlite, pausing }: HealthParts): Health['database'] {
  try {
    sqlite.exec(pausing.isSettled() ? 'BEGIN' : 'BEGIN IMMEDIATE');
    sqlite.exec('ROLLBACK');
    return 'ok';
  } catch (error) {
    const fault = databaseFaultOf(error);
    if (fault === 'busy') return 'busy';
    return fault === 'damaged' ? 'damaged' : 'cannot be written';
  }
}

function schemaState({ sqlite }: HealthParts): Health['schema'] {
  try {
    const { schema, newest } = schemaOf(sqlite);
    return schema === newest ? 'ok' : 'wrong';
  } catch {
    return 'wrong';
  }
}

function writingState({ pausing }: HealthParts): Health['writing'] {
  if (pausing.isSettled()) return 'paused';
  return pausing.now() ? 'pausing' : 'ok';
}

function mailState({ db, clock, sendsMails }: HealthParts): Health['mails'] {
  if (!sendsMails) return 'off';
  const since = oldestWaiting(db);
  return since !== null && clock.now() - since > mailLateMs ? 'late' : 'ok';
}

/** How the service stands. Says nothing that strangers could use: no version, no path, no number. */
export function healthOf(parts: HealthParts): Health {
  const database = databaseState(parts);
  const schema = schemaState(parts);
  const disk = parts.disk?.isLow() ? 'full' : 'ok';
  const mails = schema === 'ok' ? mailState(parts) : 'off';
  const backup = !parts.keeper ? 'off' : parts.keeper.isLate() ? 'late' : 'ok';
  return {
    ready: database === 'ok' && schema === 'ok' && disk === 'ok',
    database,
    writing: writingState(parts),
    schema,
    disk,
    mails,
    backup,
  };
}

/** For whoever keeps the service running: /healthz says that it lives, /readyz whether it can work. */
export async function serveHealth(app: FastifyInstance, parts: HealthParts) {
  const config = { access: 'anyone', beforeSetUp: true } as const;
  let known: Health | null = null;
  let askedAt = 0;
  app.get('/healthz', { config }, (_request, reply) => reply.type('text/plain; charset=utf-8').send('ok\n'));
  app.get('/readyz', { config }, (_request, reply) => {
    // Strangers may ask as often as they like: it is looked at once a second at most.
    const now = parts.clock.now();
    if (!known || Math.abs(now - askedAt) >= askEveryMs) [known, askedAt] = [healthOf(parts), now];
    return reply
      .code(known.ready ? 200 : 503)
      .type('application/json; charset=utf-8')
      .send(JSON.stringify(known));
  });
}
