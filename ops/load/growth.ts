import { spreadOf } from '../bench/timing.ts';
import { Person } from './person.ts';
import type { World } from './roles.ts';
import { openStage, openTheDay, type Stage } from './stage.ts';

const goalRatio = 1.3;

type Ask = { kind: string; ask: (person: Person, world: World, turn: number) => Promise<unknown> };

const codeAt = ({ codes }: World, turn: number) => codes[(turn * 37) % codes.length]!;
const get = (kind: string, path: (world: World, turn: number) => string): Ask => ({
  kind,
  ask: (person, world, turn) => person.get(kind, path(world, turn)),
});
const among = <T>(list: readonly T[], turn: number) => list[turn % list.length]!;

const asks: Ask[] = [
  get('first page', () => '/'),
  get('the round', (_, turn) => `/round?part=${1 + (turn % 20)}`),
  get('the racks', () => '/round/map'),
  get('list of cultures', (_, turn) => `/cultures?page=${1 + (turn % 10)}`),
  get("a culture's page", (world, turn) => `/cultures/${codeAt(world, turn)}`),
  get('check, its page', (world, turn) => `/cultures/${codeAt(world, turn)}/check`),
  get('count, its page', (world, turn) => `/cultures/${codeAt(world, turn)}/count`),
  get('split, its page', (world, turn) => `/cultures/${codeAt(world, turn)}/split`),
  get('mixing page', (world, turn) => `/cultures/${codeAt(world, turn)}/mixing`),
  get('trace', (world, turn) => `/cultures/${codeAt(world, turn)}/trace`),
  get('edit a culture, its page', (world, turn) => `/cultures/${codeAt(world, turn)}/edit`),
  get('surplus', () => '/surplus'),
  get('orders', () => '/orders'),
  get('an order', (world, turn) => `/orders/${among(world.orders, turn)}`),
  get('proposal for an order', (world, turn) => `/orders/${among(world.openOrders, turn)}/propose`),
  get('packing day', () => '/parcels/packing'),
  get('lines', () => '/lines'),
  get('graph of lines', (world, turn) => `/lines/graph?species=${among(world.speciesIds, turn)}`),
  get('search', (world, turn) => `/search?q=${codeAt(world, turn).slice(0, 5)}`),
  get('customers', () => '/customers'),
  get('air of the rooms', () => '/climate'),
  get('feeders', () => '/feeders'),
  get('substrate', () => '/substrate'),
  get('arrivals', () => '/parcels/arrivals'),
  get('invoices', () => '/invoices'),
  get('offers', () => '/offers'),
  {
    kind: 'all well',
    ask: (person, world, turn) =>
      person.post(
        'all well',
        `/cultures/${codeAt(world, turn)}/all-well`,
        { did: 'yes' },
        { 'hx-request': 'true' },
      ),
  },
  {
    kind: 'check, saved',
    ask: (person, world, turn) =>
      person.post('check, saved', `/cultures/${codeAt(world, turn)}/check?from=round`, {
        onDay: world.today,
        surface: 'moist',
      }),
  },
  {
    kind: 'count, saved',
    ask: (person, world, turn) =>
      person.post('count, saved', `/cultures/${codeAt(world, turn)}/count`, {
        onDay: world.today,
        method: 'visible',
        counted: '12',
      }),
  },
];

type Pair = { wall: [number[], number[]]; processor: [number[], number[]] };

/** The same request to the one and the other in turn, which begins changing too, so that noise meets both. */
async function pairOf(ask: Ask, stages: readonly Stage[], people: readonly Person[], turns: number) {
  const pair: Pair = { wall: [[], []], processor: [[], []] };
  for (let turn = 0; turn < turns + 2; turn += 1)
    for (const which of turn % 2 === 0 ? [0, 1] : [1, 0]) {
      const { service, world } = stages[which]!;
      const [start, before] = [performance.now(), service.mainThreadMs()];
      await ask.ask(people[which]!, world, turn);
      const took = performance.now() - start;
      const used = service.mainThreadMs() - before;
      const last = people[which]!.answers.at(-1)!;
      if (last.status === 0 || last.status >= 400) throw new Error(`${ask.kind} answered ${last.status}`);
      if (turn < 2) continue;
      pair.wall[which as 0 | 1].push(took);
      pair.processor[which as 0 | 1].push(used);
    }
  return pair;
}

const medians = ([small, large]: [number[], number[]]) => {
  const [a, b] = [spreadOf(small).median, spreadOf(large).median];
  return { a, b, ratio: b / a };
};

/** `npm run load -- growth`: how much longer each page takes with a hundred times the diary; one request at a time. */
export async function runGrowth(small: number, large: number, turns: number): Promise<boolean> {
  const stages = [await openStage(small, { name: 'small' }), await openStage(large, { name: 'large' })];
  const people = stages.map(({ service, sessions }) => {
    return new Person(service.base, sessions.find(({ role }) => role === 'owner')!);
  });
  await openTheDay(stages);
  console.log(
    `${'page'.padEnd(26)}   ms with ${small}, with ${large}, ratio; processor of the main thread: same`,
  );
  let worst = 0;
  for (const ask of asks) {
    const { wall, processor } = await pairOf(ask, stages, people, turns);
    const [seen, used] = [medians(wall), medians(processor)];
    worst = Math.max(worst, seen.ratio);
    const figures = [seen.a, seen.b, seen.ratio, used.a, used.b, used.ratio];
    const over = seen.ratio > goalRatio ? `  over ${goalRatio}` : '';
    console.log(`${ask.kind.padEnd(26)}${figures.map((one) => one.toFixed(2).padStart(9)).join('')}${over}`);
  }
  for (const person of people) person.leave();
  for (const { service } of stages) await service.stop();
  return worst <= goalRatio;
}
