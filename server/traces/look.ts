import { addDays } from '../../shared/days.ts';
import { CalculationError } from '../../shared/faults.ts';
import type { Contact } from '../../shared/lines/form.ts';
import { type Reached, type Source, trace } from '../../shared/lines/trace.ts';
import { backDays } from '../../shared/traces/form.ts';
import type { Culture } from '../cultures/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { Asked } from './ask.ts';
import {
  culturesByCode,
  type HarvestFor,
  harvestsFor,
  ordersByNumber,
  type TracedCulture,
} from './queries.ts';
import { allContacts } from './queries-contacts.ts';

export type TracedRow = TracedCulture & { onDay: string; way: readonly Contact[] };
export type TracedOrder = Reached & {
  order: NonNullable<ReturnType<ReturnType<typeof ordersByNumber>['get']>>;
  /** What was taken for it from cultures that can have been reached by then. */
  harvests: HarvestFor[];
};

export type Looked = {
  own: TracedCulture;
  downstream: TracedRow[];
  upstream: TracedRow[];
  orders: TracedOrder[];
};

/**
 * The trace itself. It can have gone on from the day from which it must be taken to have been there; it can have come
 * from elsewhere until the day on which it was seen.
 */
function traceOf(db: Db, code: string, asked: Pick<Asked, 'since' | 'seen' | 'back'>) {
  const { since, seen, back } = asked;
  const days = backDays[back];
  const from = days === null ? '' : [since, addDays(seen, -days)].sort()[0]!;
  const contacts = allContacts(db, from);
  const { downstream, orders } = trace({ contacts, flagged: { code, since } });
  const { upstream } = trace({ contacts, flagged: { code, since: seen } });
  return { downstream, upstream, orders };
}

const inOrder = (rows: TracedRow[], sort: Asked['sort']) =>
  sort === 'day'
    ? rows
    : rows.sort((a, b) => {
        const [one, other] = [a, b].map((row) => `${row.shelfOrder ?? '~'} ${row.code}`) as [string, string];
        return one < other ? -1 : 1;
      });

function traced(
  found: readonly (Reached | Source)[],
  known: Map<string, TracedCulture>,
  sort: Asked['sort'],
): TracedRow[] {
  const rows = found.flatMap((one) => {
    const culture = known.get(one.code);
    const onDay = 'latest' in one ? one.latest : one.earliest;
    return culture ? [{ ...culture, onDay, way: one.contacts }] : [];
  });
  return inOrder(rows, sort);
}

function tracedOrders(
  db: Db,
  found: readonly Reached[],
  reachedOn: Map<string, string>,
  since: string,
): TracedOrder[] {
  const known = ordersByNumber(
    db,
    found.map(({ code }) => Number(code)),
  );
  const harvests = harvestsFor(
    db,
    [...known.values()].map(({ id }) => id),
  );
  return found.flatMap((one) => {
    const order = known.get(Number(one.code));
    if (!order) return [];
    const own = harvests.filter((harvest) => {
      const from = reachedOn.get(harvest.code);
      return harvest.orderId === order.id && from !== undefined && harvest.onDay >= from;
    });
    return [{ ...one, order, harvests: own.filter(({ onDay }) => onDay >= since) }];
  });
}

/** The trace with all that the page says of cultures and orders; in words why there is none. */
export function look(db: Db, culture: Culture, asked: Asked): Looked | { fault: string } {
  let found: ReturnType<typeof traceOf>;
  try {
    found = traceOf(db, culture.code, asked);
  } catch (error) {
    if (!(error instanceof CalculationError)) throw error;
    return {
      fault: `The contacts ${error.message}. Choose a later day, or look less far back.`,
    };
  }
  const { downstream, upstream, orders } = found;
  const codes = [culture, ...downstream, ...upstream].map(({ code }) => code);
  const known = culturesByCode(db, codes);
  const reachedOn = new Map([
    [culture.code, asked.since],
    ...downstream.map(({ code, earliest }) => [code, earliest] as const),
  ]);
  return {
    own: known.get(culture.code)!,
    downstream: traced(downstream, known, asked.sort),
    upstream: traced(upstream, known, asked.sort),
    orders: tracedOrders(db, orders, reachedOn, asked.since),
  };
}
