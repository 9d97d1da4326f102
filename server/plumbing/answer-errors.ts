import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { h } from 'preact';
import { ErrorPage } from '../../views/layout/error-page.tsx';
import type { Furniture } from '../../views/layout/furniture.ts';
import { type DatabaseFault, databaseFaultOf } from './database-faults.ts';
import { isFull } from './disk.ts';
import { drain } from './drain.ts';
import { Refusal } from './errors.ts';

declare module 'fastify' {
  interface FastifyInstance {
    /**
     * For every error that reaches an answer: tells the log and the rest of the service of what is a fault, and gives the
     * status. Parts of the service with pages of their own ask it too.
     */
    judge(thrown: FastifyError, request: FastifyRequest, reply: FastifyReply): Judged;
  }
}

type Judged = { status: number; refusal?: Refusal };

type MakeFurniture = (request: FastifyRequest, reply: FastifyReply) => Furniture | undefined;

/** What people may meet of the database's own faults; each ends by itself when its cause is gone. */
const refusals: Record<DatabaseFault, () => Refusal | null> = {
  busy: () => null,
  full: isFull,
  readonly: () =>
    new Refusal(
      503,
      'Nothing can be saved just now',
      'Nothing was saved: the service may not write to its disk. Everything can be read as before. Whoever runs the service finds the reason in its log.',
    ),
  damaged: () =>
    new Refusal(
      503,
      'The records cannot be read just now',
      'The service has found that its database is damaged, and keeps its hands off it. Whoever runs the service finds in its log what to do, and which backup is the newest good one.',
    ),
};

function statusOf(error: FastifyError | Refusal): number {
  const status = error instanceof Refusal ? error.status : error.statusCode;
  if (databaseFaultOf(error) === 'busy') return 503;
  return status && status >= 400 ? status : 500;
}

/** Tells the rest of the service of a fault of the database, and gives what people are told. */
function met(error: FastifyError, onFault: (fault: DatabaseFault) => void): FastifyError | Refusal {
  const fault = databaseFaultOf(error);
  if (fault === null) return error;
  onFault(fault);
  return refusals[fault]() ?? error;
}

/** Set before any route. Expected errors become a clear page; others are logged once, with their request id. */
export function answerErrors(
  app: FastifyInstance,
  makeFurniture: MakeFurniture,
  onFault: (fault: DatabaseFault) => void = () => {},
) {
  const send = (request: FastifyRequest, reply: FastifyReply, status: number, refusal?: Refusal) => {
    let furniture: Furniture | undefined;
    try {
      furniture = makeFurniture(request, reply);
    } catch {
      furniture = undefined; // the error page must come even when the database does not
    }
    const props = {
      status,
      requestId: request.id,
      ...(furniture && { furniture }),
      ...(refusal && { message: refusal.message }),
      ...(refusal && status >= 500 && { title: refusal.title }),
      ...(refusal?.again && { again: refusal.again }),
    };
    return reply.code(status).page(h(ErrorPage, props));
  };
  app.decorate('judge', (thrown: FastifyError, request: FastifyRequest, reply: FastifyReply) => {
    const error = met(thrown, onFault);
    const status = statusOf(error);
    // What is refused in words is no fault of ours; what stands behind it is logged where it is found.
    if (status >= 500 && error === thrown && !(error instanceof Refusal))
      request.log.error({ err: error }, 'request failed');
    // What is still being sent is not read to its end.
    if (status === 413) reply.header('connection', 'close');
    if (status === 503 && !reply.hasHeader('retry-after')) reply.header('retry-after', '2');
    return { status, ...(error instanceof Refusal && { refusal: error }) };
  });
  app.setErrorHandler(async (thrown: FastifyError, request, reply) => {
    const { status, refusal } = app.judge(thrown, request, reply);
    if (status === 413) await drain(request.raw);
    return send(request, reply, status, refusal);
  });
  app.setNotFoundHandler((request, reply) => send(request, reply, 404));
}
