import { createHash } from 'node:crypto';
import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { dayInZone } from '../../shared/zone-day.ts';
import type { Config } from '../config.ts';
import type { Clock } from '../plumbing/clock.ts';
import { inPassing } from '../plumbing/database-faults.ts';
import type { Db } from '../plumbing/open-database.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { sha256 } from '../plumbing/sessions.ts';
import { readBusiness } from '../settings/queries.ts';
import { calendarText } from './compose.ts';
import { type Feed, feedByHash, noteUse } from './queries.ts';

type Parts = { db: Db; clock: Clock; config: Pick<Config, 'baseUrl' | 'host' | 'port'> };

declare module 'fastify' {
  interface FastifyRequest {
    calendar: Feed | null;
  }
}

/** A phone asks a few times an hour. */
const mostAMinute = 20;
/** When it was last asked for is told to the quarter of an hour: asking is no reason to write each time. */
const useNotedMs = 15 * 60_000;

const isToken = /^[\w-]{43}$/;

function send({ db, clock, config }: Parts, request: FastifyRequest, reply: FastifyReply, feed: Feed) {
  const now = clock.now();
  const business = readBusiness(db);
  const text = calendarText({ db, business, today: dayInZone(now, business.timeZone) }, ownAddress(config));
  if (now - (feed.usedAt ?? 0) >= useNotedMs) inPassing(() => noteUse(db, feed.id, now));
  const mark = `W/"${createHash('sha256').update(text).digest('base64url').slice(0, 27)}"`;
  reply.header('etag', mark).header('cache-control', 'private, no-cache');
  const known = (request.headers['if-none-match'] ?? '').split(',').map((one) => one.trim());
  if (known.includes(mark)) return reply.code(304).send();
  return reply
    .type('text/calendar; charset=utf-8')
    .header('content-disposition', 'inline; filename="broodbench.ics"')
    .send(text);
}

/**
 * Somebody's calendar at an address that only they know (see account.ts): apart from the pages and their sessions, for
 * programs that cannot sign in. What the address does not open is not there, as anything else.
 */
export async function serveCalendars(app: FastifyInstance, parts: Parts) {
  await app.register(async (own) => {
    own.decorateRequest('calendar', null);
    own.addHook('onRequest', async (request) => {
      const { token = '' } = request.params as { token?: string };
      request.calendar = isToken.test(token) ? (feedByHash(parts.db, sha256(token)) ?? null) : null;
    });
    await own.register(rateLimit, {
      max: mostAMinute,
      timeWindow: 60_000,
      keyGenerator: (request) => (request.calendar ? `calendar ${request.calendar.id}` : request.ip),
    });
    own.get('/calendar/:token.ics', { config: { access: 'anyone', ownToken: true } }, (request, reply) =>
      request.calendar ? send(parts, request, reply, request.calendar) : reply.callNotFound(),
    );
  });
}
