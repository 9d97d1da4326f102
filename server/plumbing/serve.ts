import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { h } from 'preact';
import { dayInZone } from '../../shared/zone-day.ts';
import type { Furniture } from '../../views/layout/furniture.ts';
import { Heard, NoticeSlot } from '../../views/layout/notice.tsx';
import type { Config } from '../config.ts';
import type { Answer } from './answers.ts';
import type { Keeper } from './backups.ts';
import type { Business, Call, FormBody, StaffCall } from './call.ts';
import type { Clock } from './clock.ts';
import { Refusal } from './errors.ts';
import { leaveNotice, makeFurniture, type Notice } from './furniture.ts';
import { once, outcomeOf } from './once.ts';
import type { Db } from './open-database.ts';
import { allowUpload } from './patience.ts';
import { paperInTime } from './print-in-thread.ts';
import { noteAnswer } from './reads.ts';
import type { Route, RouteTable } from './route-table.ts';
import type { Person, Sessions } from './sessions.ts';
import { listens, type Streams } from './streams.ts';
import { mostFiles, readUploads } from './uploads.ts';

export type Serving = {
  db: Db;
  clock: Clock;
  config: Config;
  sessions: Sessions;
  streams: Streams;
  assetVersion: string;
  readBusiness: (db: Db) => Business;
  /** Null where no backups are made: in tests. */
  keeper: Keeper | null;
  warnings: (who: Person | null) => Furniture['warnings'];
};

/** One value per name unless it was sent more than once. */
function plain(input: unknown): FormBody {
  return input && typeof input === 'object' ? (input as FormBody) : {};
}

function flat(query: unknown): Record<string, string | undefined> {
  const flatQuery: Record<string, string | undefined> = {};
  for (const [name, value] of Object.entries(plain(query)))
    flatQuery[name] = Array.isArray(value) ? value.at(-1) : value;
  return flatQuery;
}

function pathOf(request: FastifyRequest): string {
  return request.url.split('?', 1)[0] ?? '/';
}

export function furnitureFor(s: Serving, request: FastifyRequest, reply: FastifyReply, business: Business) {
  const wantsPart = request.headers['hx-request'] === 'true';
  return makeFurniture({
    db: s.db,
    business,
    who: request.who,
    sessionId: request.sessionId,
    nav: request.routeOptions?.config?.nav ?? '',
    csrfToken: reply.generateCsrf(),
    assetVersion: s.assetVersion,
    warnings: s.warnings,
    // What a browser fetches to keep for later must not take the notice from the page that a person looks at.
    showsNotice: request.method === 'GET' && !wantsPart && request.headers['for-later'] === undefined,
  });
}

async function makeCall(s: Serving, request: FastifyRequest, reply: FastifyReply): Promise<Call> {
  const now = s.clock.now();
  const business = s.readBusiness(s.db);
  const limit = request.routeOptions.config.upload;
  if (limit) allowUpload(request);
  const read = limit
    ? await readUploads(request, limit.maxBytes)
    : { body: plain(request.body), uploads: [] };
  const today = dayInZone(now, business.timeZone);
  const furniture = { ...furnitureFor(s, request, reply, business), today };
  const formKeyOf = () => {
    const key = typeof read.body.formKey === 'string' ? read.body.formKey : undefined;
    if (!request.who) throw new Error('once() needs somebody signed in');
    return { key, personId: request.who.id, path: pathOf(request), now };
  };
  return {
    db: s.db,
    clock: s.clock,
    config: s.config,
    keeper: s.keeper,
    sessions: s.sessions,
    who: request.who,
    sessionId: request.sessionId,
    business,
    today,
    params: request.params as Record<string, string>,
    query: flat(request.query),
    body: read.body,
    uploads: read.uploads,
    wantsPart: request.headers['hx-request'] === 'true',
    requestId: request.id,
    address: request.ip,
    device: request.headers['user-agent'] ?? '',
    knownDevice: request.cookies[s.sessions.deviceCookieName] ?? null,
    furniture,
    log: request.log,
    once: (work) => once(s.db, formKeyOf(), work),
    outcome: () => outcomeOf(s.db, formKeyOf()),
  };
}

/** What was written without a signal is bound to whoever wrote it: another person's session never sends it. */
function refuseStrangers(request: FastifyRequest) {
  const writer = request.headers['written-by'];
  if (writer !== undefined && writer !== request.who?.id)
    throw new Refusal(412, 'Somebody else', 'Somebody else is signed in here now, so this was not written.');
}

/** For a copy that the browser keeps: whose it is and from when. */
function markForCopy({ who, clock }: Call, reply: FastifyReply) {
  if (who) reply.header('signed-in-as', who.id);
  reply.header('made-at', clock.now());
}

/** What the notice tells of is done and stored: that it cannot be left for the next page must not look like a failure. */
function noticeAfter(s: Serving, sessionId: string, notice: Notice, request: FastifyRequest) {
  try {
    leaveNotice(s.db, sessionId, notice);
  } catch (err) {
    request.log.error({ err }, 'a notice could not be left');
  }
}

function send(s: Serving, call: Call, request: FastifyRequest, reply: FastifyReply, answer: Answer) {
  switch (answer.kind) {
    case 'page':
      markForCopy(call, reply);
      return reply.code(answer.status).page(answer.node);
    case 'part': {
      const { notice, heard } = answer;
      const nodes = [answer.node];
      if (notice) nodes.push(h(NoticeSlot, { furniture: { ...call.furniture, notice }, oob: true }));
      if (heard) nodes.push(h(Heard, { text: heard, oob: true }));
      return reply.code(answer.status).parts(...nodes);
    }
    case 'redirect':
      // What a browser sends by itself, long after it was written, has no page that would show the notice.
      if (answer.notice && call.sessionId && request.headers['written-by'] === undefined)
        noticeAfter(s, call.sessionId, answer.notice, request);
      for (const cookie of answer.cookies) reply.header('set-cookie', cookie);
      if (call.wantsPart) return reply.header('HX-Redirect', answer.to).code(204).send();
      return reply.redirect(answer.to, 303);
    case 'data':
      markForCopy(call, reply);
      return reply.type('application/json; charset=utf-8').send(JSON.stringify(answer.data));
    case 'events':
      if (!call.who || request.method !== 'GET' || !listens(request.headers.accept))
        return reply.redirect(answer.otherwise, 303);
      return s.streams.open(reply, call.who.id, answer.start);
    case 'file':
      return reply
        .type(answer.type)
        .header(
          'content-disposition',
          `${answer.inline ? 'inline' : 'attachment'}; filename="${answer.fileName.replace(/[^\w.-]+/g, '-')}"`,
        )
        .send(answer.body);
  }
}

async function answerTo(route: Route, call: Call, method: string): Promise<Answer> {
  if (route.access === 'anyone') return route.handler(call);
  if (!call.who) throw new Error(`${route.path} was reached by nobody`);
  const staff = call as StaffCall;
  const isPaper = route.path.endsWith('.pdf');
  const answer = isPaper ? await paperInTime(() => route.handler(staff)) : await route.handler(staff);
  if (route.shows && method === 'GET') noteAnswer(staff, route.shows, answer);
  return answer;
}

export function serveRoutes(app: FastifyInstance, table: RouteTable, s: Serving) {
  for (const route of table) {
    const upload = 'upload' in route ? route.upload : undefined;
    const beforeSetUp = route.access === 'anyone' && route.beforeSetUp === true;
    const { beforeSecondFactor = false } = route;
    app.route({
      method: route.method,
      url: route.path,
      config: {
        access: route.access,
        nav: route.nav ?? '',
        beforeSetUp,
        beforeSecondFactor,
        ...(upload && { upload }),
      },
      ...(upload && { bodyLimit: mostFiles * upload.maxBytes + 1_000_000 }),
      handler: async (request, reply) => {
        refuseStrangers(request);
        const call = await makeCall(s, request, reply);
        return send(s, call, request, reply, await answerTo(route, call, request.method));
      },
    });
  }
}
