import rateLimit from '@fastify/rate-limit';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { h } from 'preact';
import { readReport } from '../../shared/arrivals/report-form.ts';
import { isLanguage } from '../../shared/settings/languages.ts';
import { type ApologyKind, ApologyPage } from '../../views/arrivals/page-apology.tsx';
import { CustomerOrderPage } from '../../views/arrivals/page-customer-order.tsx';
import { speakerFor } from '../../views/words/speaker.ts';
import type { Config } from '../config.ts';
import type { Business } from '../plumbing/call.ts';
import type { Clock } from '../plumbing/clock.ts';
import { drain } from '../plumbing/drain.ts';
import { isFromElsewhere } from '../plumbing/from-elsewhere.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { Pausing } from '../plumbing/pause.ts';
import { mostPhotoBytes } from '../plumbing/prepare-photo.ts';
import { paperInTime } from '../plumbing/print-in-thread.ts';
import { Paused } from '../plumbing/refuse-while-paused.ts';
import { businessIfReadable, readBusiness } from '../settings/queries.ts';
import {
  type CameBack,
  customerPageProps,
  isStillOpen,
  pathOf,
  reportingOf,
  type Visit,
  visitOf,
} from './customer-page.ts';
import { linkByToken, type OrderLink } from './queries-links.ts';
import { type Kept, keepReport, sentOf } from './queries-reports.ts';
import { mostPhotos, type Received, receiveReport } from './receive.ts';

export type CareSheets = (
  parts: { db: Db; clock: Clock; business: Business; config: Parts['config'] },
  orderId: number,
) => Promise<{ fileName: string; bytes: Buffer }[]>;

type Parts = {
  db: Db;
  clock: Clock;
  config: Pick<Config, 'baseUrl' | 'host' | 'port'>;
  assetVersion: string;
  /** Papers are another feature's; whoever puts the service together hands it in. */
  careSheets: CareSheets;
  pausing: Pausing;
};

declare module 'fastify' {
  interface FastifyRequest {
    orderLink: OrderLink | null;
  }
}

/** A page, its papers and a few corrections; a household of several phones asks no more. */
const mostAMinute = 40;
/** Of addresses that open nothing, from one place: nobody guesses 128 bits, and nobody shall try at length. */
const mostGuessesAMinute = 20;
/** What is read on of a body that is too large; past that it is a flood. */
const mostBytes = 100_000_000;

const tokenOf = (request: FastifyRequest) => (request.params as { token?: string }).token ?? '';

/** The first language of the reader's browser that we have; whose address it was is not told. */
function languageOf(request: FastifyRequest, business: Business) {
  const wanted = (request.headers['accept-language'] ?? '').split(',').map((one) => one.trim().slice(0, 2));
  return [...wanted, business.language].find(isLanguage) ?? 'en';
}

function apologize({ db, assetVersion }: Parts, request: FastifyRequest, reply: FastifyReply) {
  return (status: number, kind: ApologyKind) => {
    const business = businessIfReadable(db);
    const language = languageOf(request, business);
    const speaker = speakerFor({ language, locale: business.locale });
    const node = h(ApologyPage, {
      speaker,
      kind,
      businessName: business.name,
      assetVersion,
      requestId: request.id,
    });
    return reply.code(status).page(node);
  };
}

const kindOfStatus: Record<number, ApologyKind> = { 404: 'gone', 413: 'tooLarge', 429: 'busy' };

function visit({ db, clock }: Parts, request: FastifyRequest): Visit | null {
  const { orderLink: link } = request;
  const now = clock.now();
  return link && visitOf(db, { link, business: readBusiness(db), token: tokenOf(request), now });
}

function sendPage(parts: Parts, reply: FastifyReply, visit: Visit, back?: CameBack) {
  const paused = parts.pausing.now() !== null;
  const props = { ...customerPageProps(visit, parts.assetVersion, back), paused };
  return reply.code(back ? 422 : 200).page(h(CustomerOrderPage, props));
}

/** Keeps what was received, or says what is wrong with it; null where the address was ended meanwhile. */
function take(parts: Parts, visit: Visit, { fields, photos, photoFault }: Received): Kept | CameBack | null {
  const { db, order, link, now } = visit;
  const isWell = fields.all === 'well';
  const read = readReport(sentOf(db, order.id), (name) => fields[name] ?? '');
  const faults = isWell ? new Map() : read.faults;
  const back = { values: fields, faults, photoFault, isEnough: false };
  if (faults.size > 0 || photoFault) return back;
  const { formKey = '' } = fields;
  const given = { orderId: order.id, linkId: link.id, formKey, now };
  const kept = parts.db.transaction(
    (tx): Kept | null => {
      if (!isStillOpen(tx, link)) return null;
      if (isWell) return keepReport(tx, { ...given, losses: [], note: '', photos: [] });
      return keepReport(tx, { ...given, losses: read.losses, note: read.note, photos });
    },
    { behavior: 'immediate' },
  );
  return kept === 'enough' ? { ...back, isEnough: true } : kept;
}

async function report(parts: Parts, request: FastifyRequest, reply: FastifyReply) {
  const sorry = apologize(parts, request, reply);
  const found = visit(parts, request);
  if (!found) return sorry(404, 'gone');
  if (isFromElsewhere(request, parts.config.baseUrl, 'untold')) return sorry(403, 'fault');
  if (Number(request.headers['content-length'] ?? 0) > mostBytes) {
    await drain(request.raw);
    return sorry(413, 'tooLarge');
  }
  const received = await receiveReport(request);
  if (!/^[\w.-]{16,120}$/.test(received.fields.formKey ?? '')) return sorry(400, 'fault');
  // After the last day the page itself says so, and to whom to write.
  if (reportingOf(found).open !== 'open') return sendPage(parts, reply, found);
  const kept = take(parts, found, received);
  if (kept === null) return sorry(404, 'gone');
  if (typeof kept !== 'string') return sendPage(parts, reply, found, kept);
  return reply.redirect(`${pathOf(found)}#report`, 303);
}

async function careSheets(parts: Parts, request: FastifyRequest, reply: FastifyReply) {
  const found = visit(parts, request);
  if (!found) return apologize(parts, request, reply)(404, 'gone');
  const { state, id } = found.order;
  const hasPapers = state !== 'draft' && state !== 'cancelled';
  const [file] = hasPapers
    ? await paperInTime(() => parts.careSheets({ ...parts, business: found.business }, id))
    : [];
  // The page itself shows no link to them then.
  if (!file) return reply.redirect(pathOf(found), 303);
  return reply
    .type('application/pdf')
    .header('content-disposition', `inline; filename="${file.fileName}"`)
    .send(file.bytes);
}

/**
 * The customer's page of an order, at an address that only its customer knows: apart from the staff's pages and their
 * sessions. The address is all the permission there is, so a form that carries it needs no token of its own; nothing here
 * reads or sets a cookie.
 */
export async function serveCustomers(app: FastifyInstance, parts: Parts) {
  await app.register(async (own) => {
    own.setErrorHandler(async (error: FastifyError, request, reply) => {
      const { status } = own.judge(error, request, reply);
      if (status === 413) await drain(request.raw);
      return apologize(
        parts,
        request,
        reply,
      )(status, error instanceof Paused ? 'paused' : (kindOfStatus[status] ?? 'fault'));
    });
    own.decorateRequest('orderLink', null);
    own.addHook('onRequest', async (request, reply) => {
      request.orderLink = linkByToken(parts.db, tokenOf(request), parts.clock.now());
      reply.header('referrer-policy', 'no-referrer');
      reply.header('cache-control', 'no-store');
    });
    await own.register(rateLimit, {
      max: (request) => (request.orderLink ? mostAMinute : mostGuessesAMinute),
      timeWindow: 60_000,
      keyGenerator: (request) =>
        request.orderLink ? `order ${request.orderLink.id} ${request.ip}` : request.ip,
    });
    const config = { access: 'anyone', ownToken: true } as const;
    const upload = { maxBytes: mostPhotos * mostPhotoBytes };
    own.get('/o/:token', { config }, (request, reply) => {
      const found = visit(parts, request);
      return found ? sendPage(parts, reply, found) : apologize(parts, request, reply)(404, 'gone');
    });
    own.post('/o/:token', { config: { ...config, upload }, bodyLimit: mostBytes }, (request, reply) =>
      report(parts, request, reply),
    );
    own.get('/o/:token/care-sheets.pdf', { config }, (request, reply) => careSheets(parts, request, reply));
  });
}
