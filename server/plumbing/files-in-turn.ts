import type { FastifyInstance } from 'fastify';
import { makeTurns } from './turns.ts';

const isFile = (url: string | undefined) => url !== undefined && /\.(pdf|csv)$|\/export\/:file$/.test(url);

/** Whoever asks for five hundred files in one moment would have them all looked into before anybody's page. */
export function takeFilesInTurn(app: FastifyInstance) {
  const myTurn = makeTurns();
  app.addHook('onRequest', async ({ routeOptions }) => {
    if (isFile(routeOptions.url)) await myTurn();
  });
}
