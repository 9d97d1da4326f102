import { and, eq, inArray, notInArray } from 'drizzle-orm';
import { keptStates } from '../../shared/counts/checkpoints.ts';
import { type WorkedOut, workOut } from '../../shared/surplus/work-out.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultureEstimates, estimatePoints, populationStates } from '../schema/tables.ts';
import { type Gathered, gather } from './gather.ts';

export type Estimate = typeof cultureEstimates.$inferSelect;
type Row = typeof cultureEstimates.$inferInsert;

/** Trouble that keeps animals from being sold, whatever their number. */
const keepsFromSale = new Set(['mites', 'die-off', 'quarantine']);

function keepStates(tx: Db, cultureId: number, basis: string, states: WorkedOut['states']) {
  for (const { onDay, position, events, state } of states) {
    tx.insert(populationStates)
      .values({ cultureId, onDay, position, events, basis, state: Buffer.from(state) })
      .run();
  }
  const stored = tx
    .select({ events: populationStates.events })
    .from(populationStates)
    .where(eq(populationStates.cultureId, cultureId))
    .all()
    .map((s) => s.events);
  if (stored.length < 2) return;
  tx.delete(populationStates)
    .where(
      and(eq(populationStates.cultureId, cultureId), notInArray(populationStates.events, keptStates(stored))),
    )
    .run();
}

function keepPoints(tx: Db, cultureId: number, points: WorkedOut['points']) {
  for (const { onDay, position, before, after } of points) {
    const bands = {
      beforeMedian: before.median,
      beforeLower: before.lower,
      beforeUpper: before.upper,
      afterMedian: after.median,
      afterLower: after.lower,
      afterUpper: after.upper,
    };
    // Few states are kept, so a replay may begin well before the entry that caused it: points there stand already.
    tx.insert(estimatePoints)
      .values({ cultureId, onDay, position, ...bands })
      .onConflictDoUpdate({
        target: [estimatePoints.cultureId, estimatePoints.onDay, estimatePoints.position],
        set: bands,
      })
      .run();
  }
}

function rowOf(cultureId: number, g: Gathered, worked: WorkedOut, now: number): Row {
  const common = {
    cultureId,
    asOf: g.input.asOf,
    workedOutAt: now,
    health: g.health,
    lastCountOn: g.lastCountOn,
    lastCheckOn: g.lastCheckOn,
  };
  if (worked.result === null)
    return { ...common, fault: worked.fault, promisable: 0, spareAnimals: 0, spareGroups: 0 };
  const { population: p, surplus: s, promisable } = worked.result;
  const held = keepsFromSale.has(g.health);
  return {
    ...common,
    fault: null,
    mean: p.now.mean,
    median: p.now.median,
    lower: p.now.lower,
    upper: p.now.upper,
    growthMedian: p.growthPerWeek.median,
    growthLower: p.growthPerWeek.lower,
    growthUpper: p.growthPerWeek.upper,
    capacityMedian: p.capacity.median,
    capacityLower: p.capacity.lower,
    capacityUpper: p.capacity.upper,
    fullnessMedian: p.fullness.median,
    fullnessLower: p.fullness.lower,
    fullnessUpper: p.fullness.upper,
    extinct: p.extinct,
    reserve: s.reserve,
    promisable: held ? 0 : promisable,
    spareAnimals: held ? 0 : s.spareAnimals,
    spareGroups: held ? 0 : s.spareGroups,
    sustainableMedian: s.sustainablePerWeek.median,
    sustainableLower: s.sustainablePerWeek.lower,
    sustainableUpper: s.sustainablePerWeek.upper,
    readyOn: held ? null : s.readyOn,
    limitedBy: held ? 'health' : s.limitedBy,
    forecast: JSON.stringify(p.forecast),
  };
}

const blank: Omit<Row, 'cultureId' | 'asOf' | 'workedOutAt'> = {
  fault: null,
  mean: null,
  median: null,
  lower: null,
  upper: null,
  growthMedian: null,
  growthLower: null,
  growthUpper: null,
  capacityMedian: null,
  capacityLower: null,
  capacityUpper: null,
  fullnessMedian: null,
  fullnessLower: null,
  fullnessUpper: null,
  extinct: null,
  reserve: null,
  promisable: 0,
  spareAnimals: 0,
  spareGroups: 0,
  sustainableMedian: null,
  sustainableLower: null,
  sustainableUpper: null,
  readyOn: null,
  limitedBy: null,
  forecast: null,
};

/** Stores what was worked out from `gathered`; the two belong together. */
export function keepWorkedOut(tx: Db, cultureId: number, gathered: Gathered, worked: WorkedOut, now: number) {
  keepStates(tx, cultureId, gathered.basis, worked.states);
  keepPoints(tx, cultureId, worked.points);
  const row = { ...blank, ...rowOf(cultureId, gathered, worked, now) };
  const { cultureId: _id, ...set } = row;
  tx.insert(cultureEstimates)
    .values(row)
    .onConflictDoUpdate({ target: cultureEstimates.cultureId, set })
    .run();
}

/** Works a culture's estimate out anew, from its newest stored state: after an entry, or when promises changed. */
export function refreshEstimate(tx: Db, cultureId: number, today: string, now: number) {
  const gathered = gather(tx, cultureId, today);
  keepWorkedOut(tx, cultureId, gathered, workOut(gathered.input), now);
}

export function readEstimate(db: Db, cultureId: number): Estimate | undefined {
  return db.select().from(cultureEstimates).where(eq(cultureEstimates.cultureId, cultureId)).get();
}

export function readEstimates(db: Db, cultureIds: number[]): Map<number, Estimate> {
  const rows = db
    .select()
    .from(cultureEstimates)
    .where(inArray(cultureEstimates.cultureId, cultureIds))
    .all();
  return new Map(rows.map((r) => [r.cultureId, r]));
}

export function readPoints(db: Db, cultureId: number) {
  return db
    .select()
    .from(estimatePoints)
    .where(eq(estimatePoints.cultureId, cultureId))
    .orderBy(estimatePoints.onDay, estimatePoints.position)
    .all();
}
