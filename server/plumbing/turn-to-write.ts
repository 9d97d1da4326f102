import type { FastifyInstance } from 'fastify';
import { databaseFaultOf } from './database-faults.ts';
import type { Sqlite } from './open-database.ts';

/** So long a form waits for another process to let go of the database, before its sender is told to come back. */
const patienceMs = 1_000;
const lookEveryMs = 25;
/** How long one statement may stand still for it, and with it everybody: a moment, since forms wait beforehand. */
const standStillMs = 20;

/** Whether another process holds the database just now; asked without waiting. The error is the driver's own. */
function heldBy(sqlite: Sqlite): unknown {
  if (sqlite.inTransaction) return null;
  sqlite.pragma('busy_timeout = 0');
  try {
    sqlite.exec('BEGIN IMMEDIATE; ROLLBACK');
    return null;
  } catch (error) {
    if (databaseFaultOf(error) === 'busy') return error;
    // whatever else is wrong is for the statement that meets it
    return null;
  } finally {
    sqlite.pragma(`busy_timeout = ${standStillMs}`);
  }
}

/**
 * The driver waits for a lock by standing still, and nobody's page would be answered meanwhile. So before a form is
 * worked on, it is seen whether anything can be written, and all forms wait for that together, beside the pages that are
 * only read. Where it takes too long they are told to come back (503), as the driver would have it.
 */
export function awaitTurnToWrite(app: FastifyInstance, sqlite: Sqlite): void {
  sqlite.pragma(`busy_timeout = ${standStillMs}`);
  let waiting: Promise<unknown> | null = null;
  const wait = async (first: unknown): Promise<unknown> => {
    const until = performance.now() + patienceMs;
    let held = first;
    while (held && performance.now() < until) {
      await new Promise((next) => setTimeout(next, lookEveryMs));
      held = heldBy(sqlite);
    }
    waiting = null;
    return held;
  };
  app.addHook('preHandler', async (request) => {
    if (request.method === 'GET' || request.method === 'HEAD' || request.is404) return;
    let held = waiting ? await waiting : heldBy(sqlite);
    if (held && !waiting) {
      waiting = wait(held);
      held = await waiting;
    }
    if (held) throw held;
  });
}
