import type { FastifyInstance } from 'fastify';
import { refuseMorePapers } from './print-in-thread.ts';
import { makeTurns } from './turns.ts';

const isFile = (url: string | undefined) => url !== undefined && /\.(pdf|csv)$|\/export\/:file$/.test(url);

const isPaper = (url: string | undefined) => url?.endsWith('.pdf') === true;

/** Whoever asks for five hundred files in one moment would have them all looked into before anybody's page. */
export function takeFilesInTurn(app: FastifyInstance) {
  const myTurn = makeTurns();
  app.addHook('onRequest', async ({ routeOptions }) => {
    if (isFile(routeOptions.url)) await myTurn();
    if (isPaper(routeOptions.url)) refuseMorePapers();
  });
}
