import { afterAll, describe, expect, it } from 'vitest';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { startMailServer } from '../support/mail-server.ts';
import { type Random, randomFrom } from '../support/random.ts';
import { Client, endStage, makeStage, type Running, type Stage, startService } from './storm.ts';
import { brokenIn, brokenMails, hastenMails, lostFrom, marksIn, tooMuchIn } from './storm-left.ts';

/** `npm run crash` asks for many; the suite for a few. */
const kills = Number(process.env.CRASH_KILLS ?? 1);
const clients = 8;
/** After so many a fresh bench, so that looking through it all stays quick. */
const aRound = 25;

const running = new Set<Running>();
afterAll(() => {
  for (const { child } of running) child.kill('SIGKILL');
});

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const writesOf = (crowd: Client[]) => crowd.reduce((sum, { writes }) => sum + writes, 0);
const repeatedBy = (crowd: Client[]) => crowd.reduce((sum, { repeated }) => sum + repeated, 0);
const acknowledgedBy = (crowd: Client[]) => crowd.flatMap(({ acknowledged }) => acknowledged);

/** Until the storm is on: something more was acknowledged than before. A service under load takes a while to begin. */
async function isOn(crowd: Client[], before: number) {
  for (let waited = 0; waited < 20_000 && writesOf(crowd) === before; waited += 5) await pause(5);
}

/** What is there of what was acknowledged, and what of it should not be. */
function marksOf({ database }: Stage) {
  const { sqlite } = openDatabase(database);
  try {
    return marksIn(sqlite);
  } finally {
    sqlite.close();
  }
}

type Storm = { stage: Stage; crowd: Client[]; mail: Awaited<ReturnType<typeof startMailServer>> };

/** One life of the service: it starts, the storm is on, and it is killed, or everybody may end what they began. */
async function oneLife({ stage, crowd, mail }: Storm, afterMs: number, isLast: boolean) {
  const settings = { SMTP_PORT: String(mail.at.port) };
  const service = await startService(stage.folder, settings);
  running.add(service);
  expect(service.address, service.said()).not.toBe('');
  let goesOn = true;
  const before = writesOf(crowd);
  const work = Promise.allSettled(crowd.map((client) => client.work(service.address, () => goesOn)));
  await isOn(crowd, before);
  await pause(afterMs);
  goesOn = false;
  // The last time everybody may end what they began, so that nothing is left open.
  if (!isLast) service.child.kill('SIGKILL');
  const refused = (await work).filter(({ status }) => status === 'rejected');
  service.child.kill('SIGKILL');
  await service.ended;
  running.delete(service);
  expect(refused).toEqual([]);
  expect(brokenIn(stage.database)).toEqual([]);
  expect(brokenMails(stage.database, mail.received)).toEqual([]);
  expect(lostFrom(marksOf(stage), acknowledgedBy(crowd))).toEqual([]);
  hastenMails(stage.database);
}

async function round(deaths: number, random: Random) {
  const stage = await makeStage();
  const mail = await startMailServer();
  const crowd = Array.from({ length: clients }, (_, index) => new Client(stage, index));
  for (let kill = 0; kill <= deaths; kill += 1)
    await oneLife({ stage, crowd, mail }, 20 + random.uniform() * 580, kill === deaths);
  expect(tooMuchIn(marksOf(stage), acknowledgedBy(crowd))).toEqual([]);
  endStage(stage);
  await mail.close();
  return { writes: writesOf(crowd), mails: mail.received.length, repeated: repeatedBy(crowd) };
}

describe('a service that is killed in the middle of a storm of writes', () => {
  it(
    'has everything that it said was written, once, and nothing by half',
    async () => {
      const random = randomFrom(Number(process.env.CRASH_SEED ?? 1));
      const begun = Date.now();
      let [writes, mails, repeated] = [0, 0, 0];
      for (let done = 0; done < kills; ) {
        const deaths = Math.min(aRound, kills - done);
        const said = await round(deaths, random);
        done += deaths;
        writes += said.writes;
        mails += said.mails;
        repeated += said.repeated;
        if (process.env.CRASH_KILLS)
          console.log(
            `${done} kills, ${writes} acknowledged writes, ${mails} mails handed over, ${repeated} forms sent again after a kill: none lost, none twice, nothing by half (${Math.round((Date.now() - begun) / 1_000)} s)`,
          );
      }
      expect(writes).toBeGreaterThan(clients);
      expect(repeated).toBeGreaterThan(0);
    },
    Math.max(120_000, kills * 60_000),
  );
});
