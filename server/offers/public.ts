import { randomUUID } from 'node:crypto';
import rateLimit from '@fastify/rate-limit';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { h } from 'preact';
import { type RequestFault, readRequest } from '../../shared/offers/request-form.ts';
import { isLanguage, localeFor } from '../../shared/settings/languages.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import { type ApologyKind, ApologyPage } from '../../views/arrivals/page-apology.tsx';
import { AvailablePage } from '../../views/offers/page-available.tsx';
import { speakerFor } from '../../views/words/speaker.ts';
import type { Config } from '../config.ts';
import { taxesOn } from '../invoices/queries-invoicing.ts';
import { tellRequests } from '../mails/queries-tell.ts';
import { networkOf } from '../people/queries-tries.ts';
import type { Business } from '../plumbing/call.ts';
import type { Clock } from '../plumbing/clock.ts';
import { isFromElsewhere } from '../plumbing/from-elsewhere.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { Pausing } from '../plumbing/pause.ts';
import { Paused } from '../plumbing/refuse-while-paused.ts';
import { businessIfReadable, readBusiness } from '../settings/queries.ts';
import { offerSettings, offersFor } from './queries.ts';
import { type Asked, keepRequest, waitingRequests } from './queries-requests.ts';

type Parts = {
  db: Db;
  clock: Clock;
  config: Pick<Config, 'baseUrl' | 'mail'>;
  assetVersion: string;
  pausing: Pausing;
};

/** From one network in ten minutes: looks at the list, and requests. */
const most = { looks: 200, requests: 6 } as const;

function readerOf({ db }: Parts, request: FastifyRequest, read = readBusiness) {
  const business = read(db);
  const asked = (request.query as Record<string, unknown>).lang;
  const accepted = (request.headers['accept-language'] ?? '').split(',').map((one) => one.trim().slice(0, 2));
  const wanted = [typeof asked === 'string' ? asked : '', ...accepted, business.language];
  const language = wanted.find(isLanguage) ?? 'en';
  const locale = localeFor(language, business.country, business.locale);
  return { business, speaker: speakerFor({ language, locale }) };
}

const apologize =
  (parts: Parts, request: FastifyRequest, reply: FastifyReply) => (status: number, kind: ApologyKind) => {
    const { business, speaker } = readerOf(parts, request, businessIfReadable);
    const node = h(ApologyPage, {
      speaker,
      kind,
      businessName: business.name,
      assetVersion: parts.assetVersion,
      requestId: request.id,
    });
    return reply.code(status).page(node);
  };

type CameBack = { values: Record<string, string>; faults: ReadonlyMap<string, RequestFault> };

function listFor(parts: Parts, request: FastifyRequest) {
  const { business, speaker } = readerOf(parts, request);
  const settings = offerSettings(parts.db);
  const today = dayInZone(parts.clock.now(), business.timeZone);
  const { mostShown } = settings;
  const offers = offersFor(parts.db, { today, mostShown, language: speaker.language });
  return { business, speaker, settings, today, offers };
}

function sendList(parts: Parts, request: FastifyRequest, reply: FastifyReply, back: CameBack | null) {
  const { business, speaker, settings, today, offers } = listFor(parts, request);
  if (settings.mayBeFound) reply.header('x-robots-tag', 'all');
  const empty: CameBack = { values: { country: business.country }, faults: new Map() };
  const node = h(AvailablePage, {
    speaker,
    businessName: business.name,
    offers,
    currency: business.currency,
    today,
    mostShown: settings.mostShown,
    taxes: taxesOn(parts.db, today),
    mayBeFound: settings.mayBeFound,
    form: settings.takesRequests ? { formKey: randomUUID(), ...(back ?? empty) } : null,
    wasSent: (request.query as Record<string, unknown>).sent === 'yes',
    assetVersion: parts.assetVersion,
    paused: parts.pausing.now() !== null,
  });
  return reply.code(back ? 422 : 200).page(node);
}

function fieldsOf(body: unknown): Record<string, string> {
  const fields: Record<string, string> = {};
  for (const [name, value] of Object.entries(body ?? {})) fields[name] = String([value].flat().at(-1) ?? '');
  return fields;
}

/** Keeps a request, and with it the letter that tells the owner of it, where mail is set up. */
function keepAndTell({ db, config }: Parts, business: Business, asked: Asked) {
  const address = config.baseUrl && `${config.baseUrl}/requests`;
  return db.transaction(
    (tx) => {
      const outcome = keepRequest(tx, asked);
      if (outcome === 'kept' && config.mail)
        tellRequests(tx, business, { waiting: waitingRequests(tx), address, now: asked.now });
      return outcome;
    },
    { behavior: 'immediate' },
  );
}

/** Keeps what a stranger asks for. No mail goes to the address they typed: it may be anybody's. */
function takeRequest(parts: Parts, request: FastifyRequest, reply: FastifyReply) {
  const { clock } = parts;
  const sorry = apologize(parts, request, reply);
  const { settings, offers, speaker, business } = listFor(parts, request);
  if (!settings.isOn || !settings.takesRequests) return sorry(404, 'gone');
  if (isFromElsewhere(request, parts.config.baseUrl)) return sorry(403, 'fault');
  const fields = fieldsOf(request.body);
  const { formKey = '' } = fields;
  if (!/^[\w.-]{16,120}$/.test(formKey)) return sorry(400, 'fault');
  const value = (name: string) => (Object.hasOwn(fields, name) ? (fields[name] ?? '') : '');
  const read = readRequest(
    value,
    offers.map(({ speciesId }) => speciesId),
  );
  if (read.faults.size > 0) return sendList(parts, request, reply, { values: fields, faults: read.faults });
  const prices = new Map(offers.map(({ speciesId, priceMinor }) => [speciesId, priceMinor]));
  const { language } = speaker;
  const asked = { formKey, request: read.request, language, currency: business.currency, prices };
  const kept = keepAndTell(parts, business, { ...asked, now: clock.now() });
  if (kept === 'full') return sorry(429, 'busy');
  return reply.redirect(`/available?lang=${language}&sent=yes`, 303);
}

const kindOfStatus: Record<number, ApologyKind> = { 404: 'gone', 413: 'tooLarge', 429: 'busy' };

/**
 * The list of what is spare, for everybody once the owner has turned it on: apart from the staff's pages and their sessions.
 * A form here acts for nobody who is signed in, so it needs no token; nothing here reads or sets a cookie.
 */
export async function serveOffers(app: FastifyInstance, parts: Parts) {
  await app.register(async (own) => {
    own.setErrorHandler(async (error: FastifyError, request, reply) => {
      const { status } = own.judge(error, request, reply);
      return apologize(
        parts,
        request,
        reply,
      )(status, error instanceof Paused ? 'paused' : (kindOfStatus[status] ?? 'fault'));
    });
    await own.register(rateLimit, {
      max: (request) => (request.method === 'POST' ? most.requests : most.looks),
      timeWindow: 600_000,
      keyGenerator: (request) => `${request.method === 'POST' ? 'ask' : 'look'} ${networkOf(request.ip)}`,
    });
    const config = { access: 'anyone', ownToken: true } as const;
    own.get('/available', { config }, (request, reply) =>
      offerSettings(parts.db).isOn
        ? sendList(parts, request, reply, null)
        : apologize(parts, request, reply)(404, 'gone'),
    );
    own.post('/available', { config }, (request, reply) => takeRequest(parts, request, reply));
  });
}
