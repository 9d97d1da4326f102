import { eq } from 'drizzle-orm';
import { rowField } from '../../shared/orders/form.ts';
import { formatCount } from '../../views/layout/format.ts';
import type { FormBody } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { orderLines } from '../schema/tables.ts';
import { fillingLine } from './apart.ts';
import { linesOf, type OrderableSpecies, type OrderLine, speciesToOrder } from './queries.ts';
import {
  allocationsOf,
  type CurrentAllocation,
  groupsByLine,
  linesEverPromised,
} from './queries-allocations.ts';
import { rowsOf, type TypedLine } from './read-form.ts';
import { whyAllRelated } from './unrelated.ts';

export type Errors = Record<string, string>;

/** Lines that name a species that cannot be ordered. */
function unknownSpecies(typed: readonly TypedLine[], known: Map<number, OrderableSpecies>): Errors {
  const errors: Errors = {};
  for (const line of typed)
    if (!known.has(line.species)) errors[rowField('species', line.row)] = 'Choose a species from the list.';
  return errors;
}

function insertLine(tx: Db, orderId: number, position: number, typed: TypedLine, species: OrderableSpecies) {
  const { groupAdults, groupJuveniles, groupExtras, priceMinor } = species;
  tx.insert(orderLines)
    .values({
      orderId,
      position,
      speciesId: species.id,
      groups: typed.groups,
      groupAdults,
      groupJuveniles,
      groupExtras,
      priceMinor: typed.price ?? priceMinor,
      separateLines: typed.separateLines === 'yes',
    })
    .run();
}

const bySpecies = (tx: Db, ids: readonly number[] = []) =>
  new Map(speciesToOrder(tx, ids).map((one) => [one.id, one]));

/** The lines of a new order; what is wrong with them, and then nothing is written. */
export function addLines(tx: Db, orderId: number, typed: readonly TypedLine[]): Errors {
  const species = bySpecies(tx);
  const errors = unknownSpecies(typed, species);
  if (Object.keys(errors).length > 0) return errors;
  for (const [position, line] of typed.entries())
    insertLine(tx, orderId, position, line, species.get(line.species)!);
  return {};
}

/** A row keeps its line while the species stays the same; another species is another line. */
const keeps = (line: OrderLine) => (typed: TypedLine) =>
  typed.line === line.id && typed.species === line.speciesId;

function reservedFaults(
  stored: readonly OrderLine[],
  typed: readonly TypedLine[],
  has: Map<number, number>,
  body: FormBody,
): Errors {
  const errors: Errors = {};
  for (const line of stored) {
    const reserved = has.get(line.id) ?? 0;
    const kept = typed.find(keeps(line));
    if (reserved === 0 || (kept && kept.groups >= reserved)) continue;
    const words = `${formatCount(reserved, 'group')} of ${line.scientificName} ${reserved === 1 ? 'is' : 'are'} reserved on this line. Release ${reserved === 1 ? 'it' : 'them'} first.`;
    if (kept) errors[rowField('groups', kept.row)] = words;
    else errors[rowOf(line, body)] = words;
  }
  return errors;
}

/** Groups that are reserved already and would not be unrelated starts. */
function relatedFaults(
  tx: Db,
  stored: readonly OrderLine[],
  typed: readonly TypedLine[],
  allocations: readonly CurrentAllocation[],
): Errors {
  const errors: Errors = {};
  for (const line of stored) {
    const kept = typed.find(keeps(line));
    if (!kept?.separateLines || line.separateLines) continue;
    const why = whyAllRelated(fillingLine(tx, allocations, line.id), allocations, line.id);
    if (why) errors[rowField('separateLines', kept.row)] = `${why} Release one of them first.`;
  }
  return errors;
}

/** The field of the row a line stood in, or the form as a whole when the row is gone. */
function rowOf(line: OrderLine, body: FormBody): string {
  for (let row = 0; row < rowsOf(body); row++)
    if (body[rowField('line', row)] === String(line.id)) return rowField('species', row);
  return '';
}

/** Brings a draft's lines to what was typed; what is wrong with them, and then nothing is written. */
export function changeLines(tx: Db, orderId: number, typed: readonly TypedLine[], body: FormBody): Errors {
  const stored = linesOf(tx, orderId);
  const species = bySpecies(
    tx,
    stored.map((line) => line.speciesId),
  );
  const allocations = allocationsOf(tx, orderId);
  const errors = {
    ...unknownSpecies(typed, species),
    ...reservedFaults(stored, typed, groupsByLine(allocations), body),
    ...relatedFaults(tx, stored, typed, allocations),
  };
  if (Object.keys(errors).length > 0) return errors;
  const gone = stored.filter((line) => !typed.some(keeps(line)));
  const promised = linesEverPromised(
    tx,
    gone.map((line) => line.id),
  );
  for (const { id } of gone) {
    // A line that animals were once promised on stays behind with its promises.
    if (promised.has(id)) tx.update(orderLines).set({ withdrawn: true }).where(eq(orderLines.id, id)).run();
    else tx.delete(orderLines).where(eq(orderLines.id, id)).run();
  }
  for (const [position, line] of typed.entries()) {
    const kept = stored.find((one) => keeps(one)(line));
    if (!kept) insertLine(tx, orderId, position, line, species.get(line.species)!);
    else {
      const priceMinor = line.price ?? species.get(line.species)!.priceMinor;
      tx.update(orderLines)
        .set({ position, groups: line.groups, priceMinor, separateLines: line.separateLines === 'yes' })
        .where(eq(orderLines.id, kept.id))
        .run();
    }
  }
  return {};
}
