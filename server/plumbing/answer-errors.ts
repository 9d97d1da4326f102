import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { h } from 'preact';
import { ErrorPage } from '../../views/layout/error-page.tsx';
import type { Furniture } from '../../views/layout/furniture.ts';
import { renderPage } from '../../views/layout/render.ts';
import { drain } from './drain.ts';
import { Refusal } from './errors.ts';

type MakeFurniture = (request: FastifyRequest, reply: FastifyReply) => Furniture | undefined;

function statusOf(error: FastifyError | Refusal): number {
  const status = error instanceof Refusal ? error.status : error.statusCode;
  if (error.name === 'SqliteError' && (error as { code?: string }).code?.startsWith('SQLITE_BUSY'))
    return 503;
  return status && status >= 400 ? status : 500;
}

/** Set before any route. Expected errors become a clear page; others are logged once, with their request id. */
export function answerErrors(app: FastifyInstance, makeFurniture: MakeFurniture) {
  const send = (request: FastifyRequest, reply: FastifyReply, status: number, message?: string) => {
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
      ...(message && { message }),
    };
    return reply
      .code(status)
      .type('text/html; charset=utf-8')
      .send(renderPage(h(ErrorPage, props)));
  };
  app.setErrorHandler(async (error: FastifyError, request, reply) => {
    const status = statusOf(error);
    if (status === 413) await drain(request.raw);
    if (status >= 500) request.log.error({ err: error }, 'request failed');
    if (status === 503) reply.header('retry-after', '2');
    return send(request, reply, status, error instanceof Refusal ? error.message : undefined);
  });
  app.setNotFoundHandler((request, reply) => send(request, reply, 404));
}
