import { groupsField } from '../../shared/orders/form.ts';
import { animalsPerGroup } from '../../shared/orders/make-up.ts';
import { formatCount } from '../../views/layout/format.ts';
import { refreshEstimate } from '../counts/queries-estimate.ts';
import { workOutAnew } from '../counts/queries-outdated.ts';
import { conflict } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { fillingLine, whyApartIn } from './apart.ts';
import { addHistory, type By, linesOf, loadOrder, type Order, type OrderLine } from './queries.ts';
import {
  allocationsOf,
  type CurrentAllocation,
  groupsByLine,
  insertAllocation,
} from './queries-allocations.ts';
import { type StockRow, stockOfCultures } from './queries-stock.ts';
import { isOwnMakeUp, notSpareWords, whyNotSpare } from './spare.ts';
import { whyRelated } from './unrelated.ts';

export type Wish = { lineId: number; cultureId: number; groups: number };

/** Nothing was reserved; what is wrong, by the field it was typed in. Thrown, so that the transaction is undone. */
export class NotReserved extends Error {
  constructor(readonly errors: Record<string, string>) {
    super('not reserved');
  }
}

/** The database's own refusal, written in the migrations. */
export function refusedByDatabase(error: unknown): boolean {
  return (error as { code?: unknown } | null)?.code === 'SQLITE_CONSTRAINT_TRIGGER';
}

const fieldOf = (wish: Wish) => groupsField(wish.lineId, wish.cultureId);

/** What is promised must be worked out for today: yesterday's estimate is brought up to date first. */
function upToDate(tx: Db, cultureIds: readonly number[], by: By): Map<number, StockRow> {
  const rows = stockOfCultures(tx, cultureIds);
  const old = [...rows.values()].filter((row) => row.asOf === null || row.asOf < by.today);
  if (old.length === 0) return rows;
  for (const row of old) refreshEstimate(tx, row.id, by.today, by.now);
  return stockOfCultures(tx, cultureIds);
}

function tooManyForLine(line: OrderLine, has: number, wished: number): string | null {
  if (has + wished <= line.groups) return null;
  const left = line.groups - has;
  const already = has === 0 ? '' : `, and ${has} ${has === 1 ? 'is' : 'are'} reserved already`;
  return `This line asks for ${formatCount(line.groups, 'group')}${already}: ${left === 0 ? 'no more' : `at most ${left} more`}.`;
}

/** What can be seen to be wrong before anything is written. */
function faultsOf(
  wishes: readonly Wish[],
  lines: Map<number, OrderLine>,
  stock: Map<number, StockRow>,
  has: Map<number, number>,
) {
  const errors: Record<string, string> = {};
  for (const wish of wishes) {
    const line = lines.get(wish.lineId);
    const row = stock.get(wish.cultureId);
    if (!line || !row || row.speciesId !== line.speciesId) {
      errors[fieldOf(wish)] = 'The order has changed meanwhile. Reload the page.';
      continue;
    }
    const wished = wishes.filter((w) => w.lineId === wish.lineId).reduce((sum, w) => sum + w.groups, 0);
    const tooMany = tooManyForLine(line, has.get(line.id) ?? 0, wished);
    if (tooMany) errors[fieldOf(wish)] = tooMany;
    else if (row.status !== 'active') {
      const where = row.status === 'quarantine' ? 'in quarantine' : 'retired';
      errors[fieldOf(wish)] = `${row.code} is ${where}: nothing is sold from it. Choose another culture.`;
    }
  }
  return errors;
}

/**
 * Groups of one line go to one customer, who puts them together: lines that are never mixed do not meet there, not even
 * where each is to be from another line. That is told too.
 */
function mixingFaults(
  tx: Db,
  wishes: readonly Wish[],
  lines: Map<number, OrderLine>,
  stock: Map<number, StockRow>,
  allocations: readonly CurrentAllocation[],
) {
  const errors: Record<string, string> = {};
  for (const line of lines.values()) {
    const own = wishes.filter((wish) => wish.lineId === line.id);
    if (own.length === 0) continue;
    const why = whyApartIn(tx, line.speciesId);
    const beside = fillingLine(tx, allocations, line.id);
    for (const wish of own) {
      const row = stock.get(wish.cultureId);
      if (!row) continue;
      const never = why(row, beside);
      const related = line.separateLines ? whyRelated(row, wish.groups, beside) : null;
      if (never) errors[fieldOf(wish)] = `${never} Give it a line of its own in the order.`;
      else if (related) errors[fieldOf(wish)] = related;
      beside.push(row);
    }
  }
  return errors;
}

export type Reserved = { groups: number; animals: number; codes: string[] };

/** What one order is to get. */
export type OrderWishes = { number: number; wishes: readonly Wish[] };

/** What is going on while promises are made: who, why, and what this very form has had of each culture. */
type Making = {
  reason: string | null;
  by: By;
  stock: Map<number, StockRow>;
  /** Groups of the species' own make-up; the stored estimate does not know of them yet. */
  given: Map<number, number>;
};

/**
 * Promises animals of cultures to an order: all that was asked for, or nothing. A culture that cannot spare them is
 * refused unless the owner gives a reason, which is kept. Call it inside a transaction.
 */
export function reserve(
  tx: Db,
  number: number,
  wishes: readonly Wish[],
  reason: string | null,
  by: By,
): Reserved {
  return reserveForAll(tx, [{ number, wishes }], reason, by)[0]!;
}

/** The same for several orders, in their order: all of them get what was asked for, or none. */
export function reserveForAll(
  tx: Db,
  asked: readonly OrderWishes[],
  reason: string | null,
  by: By,
): Reserved[] {
  const cultureIds = [...new Set(asked.flatMap(({ wishes }) => wishes.map((wish) => wish.cultureId)))];
  const making = { reason, by, stock: upToDate(tx, cultureIds, by), given: new Map<number, number>() };
  const errors: Record<string, string> = {};
  const reserved = asked.map((one) => reserveForOne(tx, one, making, errors));
  if (Object.keys(errors).length > 0) throw new NotReserved(errors);
  workOutAnew(tx, cultureIds, by.today, by.now);
  return reserved;
}

function reserveForOne(
  tx: Db,
  { number, wishes }: OrderWishes,
  making: Making,
  errors: Record<string, string>,
): Reserved {
  const { order } = loadOrder(tx, number);
  if (order.state !== 'draft')
    throw conflict(`Order ${number} is no longer a draft, so nothing was reserved. Look at the order again.`);
  const lines = new Map(linesOf(tx, order.id).map((line) => [line.id, line]));
  const allocations = allocationsOf(tx, order.id);
  const reserved: Reserved = { groups: 0, animals: 0, codes: [] };
  const faults = {
    ...mixingFaults(tx, wishes, lines, making.stock, allocations),
    ...faultsOf(wishes, lines, making.stock, groupsByLine(allocations)),
  };
  Object.assign(errors, faults);
  if (Object.keys(faults).length > 0) return reserved;
  for (const wish of wishes) {
    const line = lines.get(wish.lineId)!;
    const row = rowNow(tx, wish.cultureId, making);
    const refusal = promise(tx, { line, row, groups: wish.groups, reason: making.reason, by: making.by });
    if (refusal) {
      errors[fieldOf(wish)] = refusal;
      continue;
    }
    if (isOwnMakeUp(line)) making.given.set(row.id, (making.given.get(row.id) ?? 0) + wish.groups);
    reserved.groups += wish.groups;
    reserved.animals += wish.groups * animalsPerGroup(line);
    reserved.codes.push(row.code);
    tellHistory(tx, order, wish, { line, row, reason: making.reason, by: making.by });
  }
  return reserved;
}

/** Read anew for each: an earlier wish of this form may have taken animals and adults of the same culture. */
function rowNow(tx: Db, cultureId: number, { given }: Making): StockRow {
  const row = stockOfCultures(tx, [cultureId]).get(cultureId)!;
  return { ...row, spareGroups: Math.max(0, row.spareGroups - (given.get(cultureId) ?? 0)) };
}

type Pledge = { line: OrderLine; row: StockRow; groups: number; reason: string | null; by: By };

/** One promise; the words of its refusal when the culture cannot spare it and no reason overrides that. */
function promise(tx: Db, { line, row, groups, reason, by }: Pledge): string | null {
  const refusal = whyNotSpare(line, row, groups);
  if (refusal && reason === null) return refusal;
  try {
    insertAllocation(tx, {
      orderLineId: line.id,
      cultureId: row.id,
      groups,
      animals: groups * animalsPerGroup(line),
      state: 'reserved',
      overrideReason: refusal ? reason : null,
      madeBy: by.personId,
      madeAt: by.now,
    });
    return null;
  } catch (error) {
    if (!refusedByDatabase(error)) throw error;
    return notSpareWords(line, row, groups);
  }
}

function tellHistory(tx: Db, order: Order, wish: Wish, p: Omit<Pledge, 'groups'>) {
  const animals = wish.groups * animalsPerGroup(p.line);
  const words = `Reserved ${formatCount(wish.groups, 'group')} (${animals} animals) from ${p.row.code}`;
  const overridden = whyNotSpare(p.line, p.row, wish.groups) !== null;
  addHistory(
    tx,
    order.id,
    'draft',
    overridden ? `${words}, although it had not as many to spare: ${p.reason}` : `${words}.`,
    p.by,
  );
}
