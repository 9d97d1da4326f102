import { createHash } from 'node:crypto';
import { and, desc, eq, inArray, type SQL, sql } from 'drizzle-orm';
import { countInput } from '../../shared/counts/form.ts';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import { speciesProfile } from '../../shared/species/profile.ts';
import type { DiaryEvent, WorkOutInput } from '../../shared/surplus/work-out.ts';
import { type PopulationNumbers, populationEvents } from '../cultures/queries-diary.ts';
import { isOpen } from '../orders/queries-open.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  allocations,
  cultures,
  type DiaryKind,
  diary,
  enclosures,
  estimatePoints,
  populationStates,
  species,
  standingDiary,
} from '../schema/tables.ts';

export type Health = 'well' | 'mites' | 'mould' | 'die-off' | 'quarantine';
export type Gathered = {
  input: WorkOutInput;
  basis: string;
  health: Health;
  lastCountOn: string | null;
  lastCheckOn: string | null;
  /** Changes with the diary, the promises and the beliefs: two that are alike gathered the same. */
  version: string;
};

/** How far ahead an estimate looks, and how sure its interval is. */
const horizonWeeks = 8;
const level = 0.9;

function eventOf(entry: PopulationNumbers): DiaryEvent {
  const at = { date: entry.onDay };
  switch (entry.kind) {
    case 'addition':
      return { ...at, kind: 'added', animals: entry.animals! };
    case 'harvest':
    case 'split':
      return { ...at, kind: 'removed', animals: entry.animals! };
    case 'die-off':
      return {
        ...at,
        kind: 'die-off',
        survival: { median: entry.survivalMedian!, sdLog: entry.survivalSdLog! },
      };
    default:
      return { ...at, kind: 'count', ...countInput.parse(JSON.parse(entry.countInput!)) };
  }
}

/** The newest state that still holds; states from other beliefs are thrown away first. */
function newestState(tx: Db, cultureId: number, basis: string) {
  const newest = tx
    .select()
    .from(populationStates)
    .where(eq(populationStates.cultureId, cultureId))
    .orderBy(desc(populationStates.onDay), desc(populationStates.position))
    .limit(1)
    .get();
  if (!newest || newest.basis === basis) return newest ?? null;
  tx.delete(populationStates).where(eq(populationStates.cultureId, cultureId)).run();
  tx.delete(estimatePoints).where(eq(estimatePoints.cultureId, cultureId)).run();
  return null;
}

/** The last day of a standing entry of a kind; of looks, those that saw something, or saw that it is not there. */
const lastOn = (tx: Db, cultureId: number, entry: SQL): string | null =>
  tx.get<{ day: string }>(
    sql`SELECT on_day AS day FROM standing_diary WHERE culture_id = ${cultureId} AND ${entry}
      ORDER BY on_day DESC LIMIT 1`,
  )?.day ?? null;

const later = (a: string | null, b: string | null) => (a === null || (b !== null && b > a) ? b : a);

/** Whether what was seen stands: no look of a later day has said that it is not there any more. */
function isStanding(tx: Db, cultureId: number, seen: string | null, sawNone: SQL): boolean {
  if (seen === null) return false;
  return lastOn(tx, cultureId, sql`kind = 'check' AND on_day > ${seen} AND ${sawNone}`) === null;
}

/** Which of these kinds was written last, in the order of the diary. */
const lastOf = (tx: Db, cultureId: number, kinds: DiaryKind[]) =>
  tx
    .select({ kind: standingDiary.kind })
    .from(standingDiary)
    .where(and(eq(standingDiary.cultureId, cultureId), inArray(standingDiary.kind, kinds)))
    .orderBy(desc(standingDiary.onDay), desc(sql`coalesce(${standingDiary.rootId}, ${standingDiary.id})`))
    .limit(1)
    .get()?.kind;

/**
 * What keeps a culture from being well. A die-off is understood once the animals were counted after it; mites or
 * mould stand until a check on a later day says that they are not there any more. What was seen at a look is found by
 * an index of its own (diary_mites_seen, diary_mould_seen), however long the diary is.
 */
function healthOf(tx: Db, cultureId: number, status: string): Health {
  if (status === 'quarantine') return 'quarantine';
  const last = (entry: SQL) => lastOn(tx, cultureId, entry);
  const mites = later(last(sql`kind = 'mites'`), last(sql`+kind = 'check' AND mites_seen = 1`));
  if (isStanding(tx, cultureId, mites, sql`mites_seen = 0`)) return 'mites';
  if (lastOf(tx, cultureId, ['die-off', 'count']) === 'die-off') return 'die-off';
  const mould = later(last(sql`kind = 'mould'`), last(sql`+kind = 'check' AND mould_seen = 1`));
  return isStanding(tx, cultureId, mould, sql`mould_seen = 0`) ? 'mould' : 'well';
}

const basisHash = (basis: WorkOutInput['basis']): string =>
  createHash('sha256')
    .update(JSON.stringify([basis.start, basis.profile]))
    .digest('hex')
    .slice(0, 16);

/** Everything an estimate is worked out from, as plain data: it can travel to another thread. */
export function gather(tx: Db, cultureId: number, today: string): Gathered {
  const row = tx
    .select()
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .innerJoin(enclosures, eq(enclosures.id, cultures.enclosureId))
    .where(eq(cultures.id, cultureId))
    .get();
  if (!row) throw new Error(`no culture ${cultureId}`);
  const litres = volumeLitres(measuresOf(row.enclosures), row.enclosures.substrateDepthMm);
  const { profile, surplus } = speciesProfile(row.species, litres);
  const { foundedOn, foundingAnimals, foundingSdLog, status } = row.cultures;
  const basis = { start: { date: foundedOn, animals: foundingAnimals, sdLog: foundingSdLog }, profile };
  const hash = basisHash(basis);
  const state = newestState(tx, cultureId, hash);
  const events = populationEvents(tx, cultureId, state ?? undefined);
  const promised = tx
    .select({ n: sql<number>`coalesce(sum(${allocations.animals}), 0)` })
    .from(allocations)
    .where(and(eq(allocations.cultureId, cultureId), isOpen))
    .get()?.n;
  const newest = tx
    .select({ id: sql<number>`max(${diary.id})` })
    .from(diary)
    .where(eq(diary.cultureId, cultureId))
    .get();
  return {
    basis: hash,
    version: `${hash} ${newest?.id ?? 0} ${promised ?? 0} ${status}`,
    health: healthOf(tx, cultureId, status),
    lastCountOn: lastOn(tx, cultureId, sql`kind = 'count'`),
    lastCheckOn: lastOn(tx, cultureId, sql`kind = 'check'`),
    input: {
      basis,
      from: state && { state: new Uint8Array(state.state), events: state.events },
      events: events.map((e) => ({ onDay: e.onDay, position: e.position, event: eventOf(e) })),
      surplus: { ...surplus, promised: promised ?? 0 },
      asOf: today,
      horizonWeeks,
      level,
    },
  };
}
