import type { Server } from 'node:http';
import type { FastifyInstance } from 'fastify';
import { openLines } from './open-lines.ts';

/** Longest that lines which wait to be taken are taken once the service ends. */
const longestTakingMs = 1_000;
/** How long a request that was on its way when the service was told to end may still arrive over an open line. */
const onItsWayMs = 500;
const lookEveryMs = 100;

const turn = () => new Promise<void>((next) => setImmediate(next));

/**
 * The system takes lines before the service does, one is handed over at each turn of the loop, and those that still wait
 * when it stops listening are dropped. So they are all taken first.
 */
async function takeWaiting(server: Server) {
  let came = true;
  const seen = () => {
    came = true;
  };
  server.on('connection', seen);
  for (const until = performance.now() + longestTakingMs; came && performance.now() < until; ) {
    came = false;
    // The first of the two may have begun before.
    await turn();
    await turn();
  }
  server.off('connection', seen);
}

/**
 * Lets a service end without dropping a request that it has taken. The server by itself would shut kept lines at once,
 * and a request that is on its way over one is lost. Returns what ends the service: it takes what waits, answers what is
 * under way and what still comes over open lines, tells each of them that it was the last, and then shuts them.
 */
export function endWithAnswers(app: FastifyInstance): () => Promise<void> {
  const { server } = app;
  const lines = openLines(server);
  let isEnding = false;
  /** While lines are taken nothing new is answered: whoever is answered may ask again, and it would never end. */
  let taken: Promise<void> | null = null;
  app.addHook('onRequest', async () => {
    if (taken) await taken;
  });
  app.addHook('onSend', async (_request, reply, payload) => {
    if (isEnding) reply.header('connection', 'close');
    return payload;
  });
  const shutIdle = server.closeIdleConnections.bind(server);
  const shut = async () => {
    // Whatever has arrived while the loop was busy is read before anything is shut.
    await turn();
    await turn();
    shutIdle();
    // On these nothing was ever said, and the server itself would wait for it.
    for (const line of lines) if (line.bytesRead === 0) line.destroy();
  };
  return async () => {
    isEnding = true;
    let answerAgain = () => {};
    taken = new Promise((resolve) => {
      answerAgain = resolve;
    });
    await takeWaiting(server);
    server.closeIdleConnections = () => undefined;
    const closed = app.close();
    while (server.listening) await turn();
    answerAgain();
    let timer = setTimeout(function look() {
      void shut();
      timer = setTimeout(look, lookEveryMs);
    }, onItsWayMs);
    await closed;
    clearTimeout(timer);
  };
}
