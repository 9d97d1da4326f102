import type { Db } from '../../server/plumbing/open-database.ts';
import { customers, orderLines, orders, species } from '../../server/schema/tables.ts';
import { allocate } from '../../shared/orders/allocate.ts';
import { type AllocateQuestion, allocateInput } from '../../shared/orders/allocate-form.ts';
import { makeChance } from '../demo/chance.ts';
import { ms, spreadOf } from './timing.ts';

/** A packing day as a question: orders of one to four groups, cultures in lines of which some are never mixed. */
function packingDay(wishes: number, stock: number, kinds: number, sizes: number[]): AllocateQuestion {
  const chance = makeChance(11);
  return allocateInput.parse({
    timeLimitSeconds: 5,
    wanted: Array.from({ length: wishes }, (_, i) => ({
      id: `o${i}`,
      species: `s${chance.whole(1, kinds)}`,
      groups: chance.whole(1, 4),
      groupSize: chance.pick(sizes),
      separateLines: chance.happens(0.2),
      priority: chance.whole(1, 3),
    })),
    cultures: Array.from({ length: stock }, (_, i) => ({
      code: `C${i}`,
      species: `s${chance.whole(1, kinds)}`,
      line: chance.happens(0.3) ? null : `L${chance.whole(0, 19)}`,
      spare: chance.whole(0, 50),
    })),
    apart: Array.from({ length: 19 }, (_, i) => [`L${i}`, i % 4 === 0 ? null : `L${i + 1}`]),
  });
}

/** What a machine does in a while, whatever it is asked: a million numbers sorted. */
function sortNumbers() {
  const numbers = Float64Array.from({ length: 1_000_000 }, (_, i) => Math.sin(i * 12.9898) * 43_758.5453);
  numbers.sort();
}

function timed(work: () => unknown): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

/** How long a packing day takes, against the same machine sorting; what is filled, and what may be missing. */
async function allocation(question: AllocateQuestion) {
  const reference = spreadOf(Array.from({ length: 7 }, () => timed(sortNumbers))).median;
  const start = performance.now();
  const answer = await allocate(question);
  const tookMs = performance.now() - start;
  const groups = answer.allocations.reduce((sum, one) => sum + one.groups, 0);
  const wanted = question.wanted.reduce((sum, one) => sum + one.groups, 0);
  const touched = new Set(answer.allocations.map(({ code }) => code)).size;
  return { tookMs, ratio: tookMs / reference, groups, wanted, touched, ...answer };
}

/** So many drafts for a day, each for groups of two species. */
function writeDrafts(db: Db, howMany: number, day: string, madeAt: number) {
  const chance = makeChance(12);
  const kinds = db.select().from(species).all();
  db.transaction((tx) => {
    const { id: customerId } = tx
      .insert(customers)
      .values({
        name: 'Bea Bench',
        email: 'bea@example.org',
        phone: '',
        street: '1 Example Lane',
        postcode: '12345',
        city: 'Exampletown',
        region: '',
        country: 'GB',
        units: 'metric',
        paper: 'A4',
        note: '',
        madeAt,
      })
      .returning({ id: customers.id })
      .get();
    for (let i = 0; i < howMany; i += 1) {
      const { id: orderId } = tx
        .insert(orders)
        .values({
          number: 1_000 + i,
          customerId,
          state: 'draft',
          currency: 'GBP',
          postageMinor: 0,
          dispatchOn: day,
          note: '',
          version: 1,
          madeAt,
        })
        .returning({ id: orders.id })
        .get();
      for (const position of [0, 1]) {
        const { id: speciesId, groupAdults, groupJuveniles, groupExtras, priceMinor } = chance.pick(kinds);
        const groups = chance.whole(1, 3);
        const separateLines = chance.happens(0.2);
        tx.insert(orderLines)
          .values({
            orderId,
            position,
            speciesId,
            groups,
            groupAdults,
            groupJuveniles,
            groupExtras,
            priceMinor,
            separateLines,
          })
          .run();
      }
    }
  });
}

type Get = (url: string) => Promise<{ statusCode: number }>;

/** The page that proposes for a day of 60 drafts, while another page is asked for again and again. */
async function proposalPage(get: Get, day: string) {
  const meanwhile: number[] = [];
  let running = true;
  const visits = (async () => {
    while (running) {
      const start = performance.now();
      await get('/orders');
      meanwhile.push(performance.now() - start);
      await new Promise((next) => setTimeout(next, 50));
    }
  })();
  const start = performance.now();
  const { statusCode } = await get(`/orders/propose?day=${day}`);
  const tookMs = performance.now() - start;
  running = false;
  await visits;
  if (statusCode !== 200) throw new Error(`the proposal answered ${statusCode}`);
  return { tookMs, meanwhile: spreadOf(meanwhile) };
}

/** Sixty orders over two hundred cultures, easy and hard, and the page that asks it of the database. */
export async function sayAllocation(db: Db, get: Get, day: string, now: number) {
  const cases = [
    ['ten species, groups of a dozen', packingDay(60, 200, 10, [12])],
    ['one species, groups of six sizes', packingDay(60, 200, 1, [5, 7, 11, 12, 13, 20])],
  ] as const;
  for (const [name, question] of cases) {
    const { tookMs, ratio, groups, wanted, touched, optimal, gap } = await allocation(question);
    const missing = `up to ${gap.groups} groups more, ${gap.cultures} cultures fewer, a smallest rest larger by ${gap.shareLeft.toFixed(3)}`;
    console.log(
      `60 orders over 200 cultures, ${name}: ${(tookMs / 1000).toFixed(2)} s (limit 5 s of the solver’s clock), ${ratio.toFixed(1)} times sorting a million numbers`,
    );
    console.log(
      `  ${groups} of ${wanted} groups from ${touched} cultures; ${optimal ? 'optimal' : `gap: ${missing}`}`,
    );
  }
  writeDrafts(db, 60, day, now);
  const page = await proposalPage(get, day);
  console.log(
    `page that proposes for 60 drafts: ${(page.tookMs / 1000).toFixed(2)} s; the list of orders meanwhile: median ${ms(page.meanwhile.median)}, p95 ${ms(page.meanwhile.p95)}`,
  );
}
