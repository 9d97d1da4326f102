import { eq, sql } from 'drizzle-orm';
import { allocations, cultureEstimates } from '../../server/schema/tables.ts';
import { makeCounted } from './counted-stock.ts';
import { makeCustomer, makeLine, makeOrder } from './orders.ts';
import { makeSpecies } from './stock.ts';
import type { TestApp } from './test-app.ts';

export type Round = {
  statuses: number[];
  texts: string[];
  /** Animals promised of the culture, and how many it could spare before anybody asked. */
  promised: number;
  couldSpare: number;
  /** Animals in one group, and the culture's code. */
  perGroup: number;
  code: string;
};

/** Many people ask at the same instant for the last group of one culture, each for an order of their own. */
export async function buyTheLastGroup({ db, owner, helper }: TestApp, buyers: number): Promise<Round> {
  const kind = makeSpecies(db);
  const culture = makeCounted(db, kind.id, 80);
  const customerId = makeCustomer(db).id;
  const paths = Array.from({ length: buyers }, () => {
    const order = makeOrder(db, { customerId });
    const line = makeLine(db, order.id, kind.id);
    return { path: `/orders/${order.number}/reserve`, field: `groups-${line.id}-${culture.id}` };
  });
  await owner.csrf();
  await helper.csrf();
  const answers = await Promise.all(paths.map(({ path, field }) => owner.post(path, { [field]: 1 })));
  const promised = db
    .select({ animals: sql<number>`coalesce(sum(${allocations.animals}), 0)` })
    .from(allocations)
    .where(eq(allocations.cultureId, culture.id))
    .get();
  return {
    statuses: answers.map((answer) => answer.status),
    texts: answers.map((answer) => answer.text),
    promised: promised?.animals ?? 0,
    couldSpare: culture.estimate.promisable,
    perGroup: kind.groupAdults + kind.groupJuveniles + kind.groupExtras,
    code: culture.code,
  };
}

/** What an oversold round looks like, in words; null when none was oversold and everybody got a clear answer. */
export function whatWentWrong(round: Round): string | null {
  const won = round.statuses.filter((status) => status === 303).length;
  const clear = round.statuses.filter((status) => status === 422 || status === 409).length;
  if (round.couldSpare < round.perGroup || round.couldSpare >= 2 * round.perGroup)
    return `the culture had not exactly one group to spare, but ${round.couldSpare} animals`;
  if (round.promised > round.couldSpare)
    return `oversold: ${round.promised} animals promised, ${round.couldSpare} spare`;
  if (won !== 1) return `${won} of ${round.statuses.length} got the last group`;
  if (won + clear !== round.statuses.length) return `answers ${[...new Set(round.statuses)].join(', ')}`;
  const told = round.texts.filter((text) => text.includes(`${round.code} can spare`)).length;
  return told === clear ? null : `${clear - told} were not told what is still spare`;
}

/** The open promises of every culture, held against what it can spare. */
export function oversold({ db }: TestApp): string[] {
  return db
    .select({ id: cultureEstimates.cultureId, promisable: cultureEstimates.promisable })
    .from(cultureEstimates)
    .where(
      sql`${cultureEstimates.promisable} < (SELECT coalesce(sum(animals), 0) FROM allocations
        WHERE culture_id = ${cultureEstimates.cultureId} AND state = 'reserved')`,
    )
    .all()
    .map((row) => `culture ${row.id} could spare ${row.promisable}`);
}
