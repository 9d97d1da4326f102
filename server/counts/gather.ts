import { createHash } from 'node:crypto';
import { and, desc, eq, inArray, type SQL, sql } from 'drizzle-orm';
import { countInput } from '../../shared/counts/form.ts';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import { speciesProfile } from '../../shared/species/profile.ts';
import type { DiaryEvent, WorkOutInput } from '../../shared/surplus/work-out.ts';
import { type PopulationEntry, populationEntries } from '../cultures/queries-diary.ts';
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

function eventOf(entry: PopulationEntry): DiaryEvent {
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

type Seen = Record<'count' | 'check' | 'mites' | 'noMites' | 'mould' | 'noMould', string | null>;

/** The last day of everything that is asked for, in one look through the culture's diary. */
function lastDays(tx: Db, cultureId: number): Seen {
  const { kind, onDay, mitesSeen, mouldSeen } = standingDiary;
  const last = (condition: SQL) => sql<string | null>`max(CASE WHEN ${condition} THEN ${onDay} END)`;
  return tx
    .select({
      count: last(sql`${kind} = 'count'`),
      check: last(sql`${kind} = 'check'`),
      mites: last(sql`${kind} = 'mites' OR (${kind} = 'check' AND ${mitesSeen} = 1)`),
      noMites: last(sql`${kind} = 'check' AND ${mitesSeen} = 0`),
      mould: last(sql`${kind} = 'mould' OR (${kind} = 'check' AND ${mouldSeen} = 1)`),
      noMould: last(sql`${kind} = 'check' AND ${mouldSeen} = 0`),
    })
    .from(standingDiary)
    .where(eq(standingDiary.cultureId, cultureId))
    .get()!;
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
 * mould stand until a check on a later day says that they are not there any more.
 */
function healthOf(tx: Db, cultureId: number, status: string, last: Seen): Health {
  if (status === 'quarantine') return 'quarantine';
  const standing = (seen: string | null, clear: string | null) =>
    seen !== null && (clear === null || clear <= seen);
  if (standing(last.mites, last.noMites)) return 'mites';
  if (lastOf(tx, cultureId, ['die-off', 'count']) === 'die-off') return 'die-off';
  return standing(last.mould, last.noMould) ? 'mould' : 'well';
}

export const basisHash = (basis: WorkOutInput['basis']): string =>
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
  const events = populationEntries(tx, cultureId, state ?? undefined);
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
  const last = lastDays(tx, cultureId);
  return {
    basis: hash,
    version: `${hash} ${newest?.id ?? 0} ${promised ?? 0} ${status}`,
    health: healthOf(tx, cultureId, status, last),
    lastCountOn: last.count,
    lastCheckOn: last.check,
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
