import type { AllocateAnswer } from '../../shared/orders/allocate.ts';
import type { AllocateQuestion } from '../../shared/orders/allocate-form.ts';
import { animalsPerGroup, animalsToSpare } from '../../shared/orders/make-up.ts';
import { apartRules } from '../lines/queries-apart.ts';
import type { Db } from '../plumbing/open-database.ts';
import { fillingLine } from './apart.ts';
import { solverSeconds } from './fill-in-thread.ts';
import { type LoadedOrder, linesOf, type OrderLine } from './queries.ts';
import { allocationsOf, groupsByLine } from './queries-allocations.ts';
import { type StockRow, stockOf, stockOfSpecies } from './queries-stock.ts';
import type { Wish } from './reserve.ts';
import { ownMakeUp } from './spare.ts';

/** A line that lacks groups, with what fills it already. */
export type OpenLine = { line: OrderLine; has: number; beside: readonly StockRow[] };

export type Draft = { number: number; customerName: string; lines: readonly OpenLine[] };

/** What an order still lacks. */
export function draftOf(db: Db, { order, customer }: LoadedOrder): Draft {
  const allocations = allocationsOf(db, order.id);
  const has = groupsByLine(allocations);
  const open = linesOf(db, order.id).filter((line) => line.groups > (has.get(line.id) ?? 0));
  return {
    number: order.number,
    customerName: customer.name,
    lines: open.map((line) => ({
      line,
      has: has.get(line.id) ?? 0,
      beside: fillingLine(db, allocations, line.id),
    })),
  };
}

/** More cultures of one species that could give are not weighed. */
const mostOfSpecies = 2_000;

export type StockBySpecies = ReadonlyMap<number, readonly StockRow[]>;

/** The cultures that have something to spare, of each species that is asked for. */
export function stockFor(db: Db, drafts: readonly Draft[]): StockBySpecies {
  const species = new Set(drafts.flatMap(({ lines }) => lines.map(({ line }) => line.speciesId)));
  return new Map(
    [...species].map((id) => {
      const rows = stockOfSpecies(db, id, mostOfSpecies);
      return [id, rows.filter((row) => row.promisable > row.promised)] as const;
    }),
  );
}

const lineName = ({ lineId }: Pick<StockRow, 'lineId'>) => (lineId === null ? null : `line ${lineId}`);

/** Lines of a species that must not meet, two by two, among those that could. */
function keptApart(db: Db, speciesId: number, rows: readonly StockRow[]): AllocateQuestion['apart'] {
  const why = apartRules(db, speciesId);
  const ids = [...new Set(rows.map(({ lineId }) => lineId))];
  return ids.flatMap((one, i) =>
    ids
      .slice(i + 1)
      .flatMap((other): AllocateQuestion['apart'] =>
        why(one, other) ? [[lineName({ lineId: one }), lineName({ lineId: other })]] : [],
      ),
  );
}

export type Asked = {
  drafts: readonly Draft[];
  stock: StockBySpecies;
  priorityOf: (number: number) => number;
};

/** The drafts and the stock as the calculation asks for them; earlier orders come first among equals. */
export function questionOf(db: Db, { drafts, stock, priorityOf }: Asked): AllocateQuestion {
  const lines = drafts.flatMap(({ number, lines: open }) => open.map((one) => ({ ...one, number })));
  const own = new Map(lines.map(({ line }) => [line.speciesId, ownMakeUp(line)]));
  const beside = (speciesId: number) =>
    lines.filter(({ line }) => line.speciesId === speciesId).flatMap((one) => one.beside);
  return {
    wanted: lines.map(({ line, has, beside: filled, number }) => ({
      id: String(line.id),
      species: String(line.speciesId),
      groups: line.groups - has,
      groupSize: animalsPerGroup(line),
      line: null,
      separateLines: line.separateLines,
      has: filled.map((row) => ({ code: row.code, line: lineName(row) })),
      priority: priorityOf(number),
    })),
    cultures: [...stock].flatMap(([speciesId, rows]) =>
      rows.map((row) => ({
        code: row.code,
        species: String(speciesId),
        line: lineName(row),
        spare: animalsToSpare(stockOf(row), own.get(speciesId)!),
      })),
    ),
    apart: [...stock].flatMap(([id, rows]) => keptApart(db, id, [...rows, ...beside(id)])),
    timeLimitSeconds: solverSeconds,
  };
}

/** The answer as the form that reserves would say it. */
export function wishesIn(answer: AllocateAnswer, stock: StockBySpecies): Wish[] {
  const ids = new Map([...stock.values()].flat().map((row) => [row.code, row.id]));
  return answer.allocations.map(({ id, code, groups }) => ({
    lineId: Number(id),
    cultureId: ids.get(code)!,
    groups,
  }));
}
