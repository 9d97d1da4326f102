import { afterAll, describe, expect, it } from 'vitest';
import { openDatabase } from '../../server/plumbing/open-database.ts';
import { randomFrom } from '../support/random.ts';
import { brokenIn, Client, endStage, makeStage, marksIn, type Running, startService } from './storm.ts';

/** `npm run crash` asks for many; the suite for a few. */
const kills = Number(process.env.CRASH_KILLS ?? 1);
const clients = 8;

const running: Running[] = [];
afterAll(() => {
  for (const { child } of running) child.kill('SIGKILL');
});

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Until the storm is on: something more was acknowledged than before. A service under load takes a while to begin. */
async function isOn(crowd: Client[], before: number) {
  for (let waited = 0; waited < 20_000 && acknowledgedBy(crowd).length === before; waited += 5)
    await pause(5);
}

const acknowledgedBy = (crowd: Client[]) => crowd.flatMap(({ acknowledged }) => acknowledged);

describe('a service that is killed in the middle of a storm of writes', () => {
  it(
    'has everything that it said was written, once, and nothing by half',
    async () => {
      const stage = await makeStage(Math.min(2_000, 40 * (kills + 1)));
      const crowd = Array.from({ length: clients }, (_, index) => new Client(stage, index, clients));
      const random = randomFrom(Number(process.env.CRASH_SEED ?? 1));
      for (let kill = 0; kill <= kills; kill += 1) {
        const service = await startService(stage.folder);
        running.push(service);
        expect(service.address, service.said()).not.toBe('');
        let goesOn = true;
        const work = Promise.allSettled(crowd.map((client) => client.work(service.address, () => goesOn)));
        await isOn(crowd, acknowledgedBy(crowd).length);
        await pause(20 + random.uniform() * 580);
        goesOn = false;
        // The last time everybody may end what they began, so that nothing is left open.
        if (kill < kills) service.child.kill('SIGKILL');
        const refused = (await work).filter(({ status }) => status === 'rejected');
        service.child.kill('SIGKILL');
        await service.ended;
        expect(refused).toEqual([]);
        expect(brokenIn(stage.database)).toEqual([]);
      }
      const { sqlite } = openDatabase(stage.database);
      const marks = marksIn(sqlite);
      sqlite.close();
      const told = acknowledgedBy(crowd);
      expect(told.filter((name) => marks.get(name) !== 1)).toEqual([]);
      expect([...marks.keys()].filter((name) => !told.includes(name))).toEqual([]);
      expect(told.length).toBeGreaterThan(clients);
      if (process.env.CRASH_KILLS)
        console.log(`${kills} kills, ${told.length} acknowledged actions, none lost, none doubled`);
      endStage(stage);
    },
    Math.max(120_000, kills * 30_000),
  );
});
