import { fromEpochDay, toEpochDay } from '../days.ts';
import { CalculationError } from '../faults.ts';
import type { Contact, TraceQuestion } from './form.ts';
import { compareText } from './founding-order.ts';
import { type Reach, reach, type Step } from './reach.ts';

/** Codes on all paths together; more would fill the memory. */
const MOST_ON_PATHS = 5_000_000;

/** A way that contacts can have carried something, in the order in which it happened. */
interface Way {
  /** The codes on it, both ends included. */
  readonly path: readonly string[];
  /** The contacts between them, one fewer. */
  readonly contacts: readonly Contact[];
}

/** A culture, or an order, that can have been reached from the flagged culture. */
export interface Reached extends Way {
  /** The culture's code or the order's id. */
  readonly code: string;
  /** The first day it can have been reached. */
  readonly earliest: string;
}

/** A culture that can have brought it into the flagged culture. */
export interface Source extends Way {
  readonly code: string;
  /** The first and the last day on which it can have passed it on. */
  readonly earliest: string;
  readonly latest: string;
}

export interface TraceAnswer {
  readonly downstream: readonly Reached[];
  readonly upstream: readonly Source[];
  readonly orders: readonly Reached[];
}

/**
 * Who had contact with a flagged culture: where mites, mould or a mixed-up species can have gone from it, and
 * where they can have come from.
 *
 * Contacts run from `from` to `to`, all kinds alike: a shared tool carries from the culture where it was used
 * to the next one (a tool used to and fro is two contacts). With kind "order", `to` is the id of an order,
 * which passes nothing on; orders are listed apart, and an order's id may equal a culture's code.
 *
 * Downstream and orders: the flagged culture counts as reached on `since`; a contact counts on or after the
 * day its source was reached, the same day included. earliest = the first day something can have arrived.
 * Upstream, the mirror image: contacts into the flagged culture count until `since`, that day included; a
 * contact counts on or before the last day its target can have passed it on. latest and earliest = the last
 * and the first day a contact of that culture can have led here; the path is the one that leaves it last.
 *
 * The path shown reaches (leaves) on that day by the fewest contacts, then by the code of the neighbour, then
 * by the order of the list; each path goes on from the path shown for the culture before it. A contact of a
 * culture with itself changes nothing, and the flagged culture is never listed. Sorted: downstream and orders by day, upstream by day backward; then fewest
 * contacts, then code.
 *
 * Errors: CalculationError where the paths together are too long to be written down.
 *
 * @example trace({ flagged: { code: 'A', since: '2026-03-02' }, contacts: [
 *   { date: '2026-03-01', from: 'A', to: 'C', kind: 'split' },
 *   { date: '2026-03-02', from: 'A', to: 'B', kind: 'feeders' },
 *   { date: '2026-03-02', from: 'B', to: 'C', kind: 'shared tool' }] }).downstream.map(({ path }) => path)
 * // [['A', 'B'], ['A', 'B', 'C']]: the split was before A was taken to be infested
 */
export function trace({ contacts, flagged }: TraceQuestion): TraceAnswer {
  const nodes = nodesOf(contacts, flagged.code);
  const start = nodes.cultures.get(flagged.code)!;
  const since = toEpochDay(flagged.since);
  const onward = contacts.map((contact): Step => {
    const targets = contact.kind === 'order' ? nodes.orders : nodes.cultures;
    const [from, to] = [nodes.cultures.get(contact.from)!, targets.get(contact.to)!];
    return { day: toEpochDay(contact.date), from, to };
  });
  // Backward in time is forward with the days counted down and both ends changed over.
  const backward = onward.map(({ day, from, to }): Step => ({ day: -day, from: to, to: from }));
  const down = reach(nodes.count, onward, start, since);
  const up = reach(nodes.count, backward, start, -since);
  const firsts = firstDays(onward, up);
  const downstream = reached(nodes.cultures, down, start);
  const upstream = reached(nodes.cultures, up, start);
  const orders = reached(nodes.orders, down, start);
  refuseEndless(down, [...downstream, ...orders]);
  refuseEndless(up, upstream);
  const arrived = ([code, node]: Found): Reached => {
    const way = lastFirst(node, down, onward, contacts).reverse();
    const path = [...way.map(({ from }) => from), code];
    return { code, earliest: fromEpochDay(down.days[node]!), path, contacts: way };
  };
  const left = ([code, node]: Found): Source => {
    const way = lastFirst(node, up, backward, contacts);
    const path = [code, ...way.map(({ to }) => to)];
    const [earliest, latest] = [fromEpochDay(firsts.get(node)!), fromEpochDay(-up.days[node]!)];
    return { code, earliest, latest, path, contacts: way };
  };
  return { downstream: downstream.map(arrived), upstream: upstream.map(left), orders: orders.map(arrived) };
}

interface Nodes {
  count: number;
  cultures: ReadonlyMap<string, number>;
  orders: ReadonlyMap<string, number>;
}

/** Numbers in the order of the codes, so that the lower number is the earlier code; orders after cultures. */
function nodesOf(contacts: readonly Contact[], flagged: string): Nodes {
  const cultures = new Set([flagged]);
  const orders = new Set<string>();
  for (const { from, to, kind } of contacts) {
    cultures.add(from);
    (kind === 'order' ? orders : cultures).add(to);
  }
  const numbered = (codes: Set<string>, first: number) =>
    new Map([...codes].sort(compareText).map((code, i) => [code, first + i] as const));
  return {
    count: cultures.size + orders.size,
    cultures: numbered(cultures, 0),
    orders: numbered(orders, cultures.size),
  };
}

/** The first day of a contact out of each node that can have led to the start. */
function firstDays(onward: readonly Step[], up: Reach): Map<number, number> {
  const firsts = new Map<number, number>();
  for (const { day, from, to } of onward) {
    const until = up.days[to];
    if (until === undefined || day > -until || from === to) continue;
    firsts.set(from, Math.min(day, firsts.get(from) ?? day));
  }
  return firsts;
}

type Found = readonly [code: string, node: number];

/** The nodes that were reached, the start left out, the first day first. */
function reached(nodes: ReadonlyMap<string, number>, { days, counts }: Reach, start: number): Found[] {
  return [...nodes]
    .filter(([, node]) => node !== start && days[node] !== undefined)
    .sort(([, a], [, b]) => days[a]! - days[b]! || counts[a]! - counts[b]! || a - b);
}

function refuseEndless({ counts }: Reach, found: readonly Found[]): void {
  const codes = found.reduce((sum, [, node]) => sum + counts[node]! + 1, 0);
  if (codes <= MOST_ON_PATHS) return;
  throw new CalculationError('lead over paths that are too long to be written down', 'contacts');
}

/** The contacts of the way shown, from the node back to the start. */
function lastFirst(
  node: number,
  { last }: Reach,
  steps: readonly Step[],
  contacts: readonly Contact[],
): Contact[] {
  const way: Contact[] = [];
  for (let i = last[node]; i !== undefined; i = last[steps[i]!.from]) way.push(contacts[i]!);
  return way;
}
