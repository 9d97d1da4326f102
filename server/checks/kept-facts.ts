import { type Mark, touchedSince } from '../cultures/queries-touched.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type KeptCulture, keptCulture, keptCultures, walked } from './queries.ts';

/** Read again one by one; more are read together, with all the others. */
const mostOneByOne = 300;

type Kept = { today: string; mark: Mark; byId: Map<number, KeptCulture>; inOrder: KeptCulture[] };
type Facts = Pick<Kept, 'byId' | 'inOrder'>;

/** A round that is open all day is asked for with every tap: what was read of a culture is kept until it is touched. */
const kept = new WeakMap<Db, Kept>();

function readAll(db: Db, today: string): Facts {
  const inOrder = keptCultures(db, today);
  return { inOrder, byId: new Map(inOrder.map((culture) => [culture.id, culture])) };
}

const standsAs = (a: KeptCulture | undefined, b: KeptCulture | undefined) =>
  a?.status === b?.status && a?.shelfOrder === b?.shelfOrder && a?.code === b?.code;

/** Those that were touched are read again; the order too, where one came, went or stands elsewhere. */
function readSome(db: Db, { today, byId: old, inOrder }: Kept, ids: readonly number[]): Facts {
  const byId = new Map(old);
  for (const id of ids) {
    const culture = keptCulture(db, today, id);
    if (culture) byId.set(id, culture);
    else byId.delete(id);
  }
  const order = ids.every((id) => standsAs(old.get(id), byId.get(id)))
    ? inOrder.map(({ id }) => id)
    : walked(db);
  return { byId, inOrder: order.flatMap((id) => byId.get(id) ?? []) };
}

/** Every culture that is kept, as `keptCultures` reads them. The same object stands for one until it is touched. */
export function keptFacts(db: Db, today: string): readonly KeptCulture[] {
  const before = kept.get(db);
  const { mark, cultures: changed } = touchedSince(db, before?.mark ?? null);
  const goesOn = before?.today === today && changed !== 'all' && changed.size <= mostOneByOne;
  if (goesOn && changed.size === 0) {
    before.mark = mark;
    return before.inOrder;
  }
  const facts = goesOn ? readSome(db, before, [...changed]) : readAll(db, today);
  kept.set(db, { today, mark, ...facts });
  return facts.inOrder;
}
