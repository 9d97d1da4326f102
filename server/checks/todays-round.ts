import { type CareDue, type CareFacts, careDue, type DueKind } from '../../shared/checks/care-due.ts';
import { addDays } from '../../shared/days.ts';
import type { OpenWork, RoundRowData } from '../../views/checks/part-round-row.tsx';
import { askedCountWords } from '../../views/checks/say-round.ts';
import { isWaterKnown, type WaterDue, waterDueByCulture } from '../climate/queries-water.ts';
import { type Mark, touchedSince } from '../cultures/queries-touched.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { type AskedCount, countsAskedFor } from '../surplus/queries-round-counts.ts';
import { keptFacts } from './kept-facts.ts';
import type { KeptCulture } from './queries.ts';
import { type PutOff, waitingOn } from './queries-put-offs.ts';
import { stagesDue } from './stages-due.ts';

/** Trouble that holds a culture's animals back whatever a count says. */
const heldAnyway = new Set(['mites', 'quarantine']);

function seen<T extends string>(text: string | null): { onDay: string; what: T } | null {
  if (text === null) return null;
  const [onDay = '', what = ''] = text.split(' ');
  return { onDay, what: what as T };
}

export function factsOf(c: KeptCulture, { dries, stages }: Pick<Marks, 'dries' | 'stages'>): CareFacts {
  const left = seen<'none' | 'few' | 'plenty'>(c.leftSeen);
  const surface = seen<'wet' | 'moist' | 'dry'>(c.surfaceSeen);
  const isIn = c.fruitInAt !== null && (c.fruitOutAt === null || c.fruitOutAt < c.fruitInAt);
  const { lower, upper, reserve, promised, groupSize } = c;
  const counts = c.sellable && !heldAnyway.has(c.health);
  return {
    foundedOn: c.foundedOn,
    lastCheckOn: c.lastCheckOn,
    checkEveryDays: c.everyDays,
    lastFedOn: c.lastFedOn,
    feedEveryDays: c.feedEveryDays,
    left: left && { onDay: left.onDay, amount: left.what },
    fruitSince: isIn ? (c.fruitInAt?.slice(0, 10) ?? null) : null,
    surface: surface && { onDay: surface.onDay, is: surface.what },
    lastWateredOn: c.lastWateredOn,
    dries: dries.get(c.id) ?? null,
    stages: stages.get(c.id) ?? [],
    substrateMonths: c.substrateMonths,
    renewedOn: c.renewedOn,
    spentOn: c.feederDays === null ? null : addDays(c.foundedOn, c.feederDays),
    number:
      counts && lower !== null && upper !== null && reserve !== null
        ? { lower, upper, reserve, promised, groupSize }
        : null,
    lastCountOn: c.lastCountOn,
  };
}

/** Everything that decides what a day's round holds, apart from the cultures themselves. */
export type Marks = {
  today: string;
  locale: string;
  asked: Map<number, AskedCount>;
  /** The kinds of work of each culture that are put off. */
  waits: ReadonlyMap<number, ReadonlySet<DueKind>>;
  /** When each culture will likely be dry, where its checks tell. */
  dries: ReadonlyMap<number, WaterDue>;
  /** Young and adults that were foretold. */
  stages: ReadonlyMap<number, CareFacts['stages']>;
};

function kindsByCulture(waiting: readonly PutOff[]): Marks['waits'] {
  const kinds = new Map<number, Set<DueKind>>();
  for (const { cultureId, what } of waiting)
    kinds.set(cultureId, (kinds.get(cultureId) ?? new Set()).add(what));
  return kinds;
}

export function marksOf({
  db,
  today,
  business,
}: Pick<StaffCall, 'db' | 'today' | 'business'>): Marks & { waiting: PutOff[] } {
  const waiting = waitingOn(db, today);
  return {
    today,
    locale: business.locale,
    asked: new Map(countsAskedFor(db, today).map((one) => [one.cultureId, one])),
    waits: kindsByCulture(waiting),
    dries: waterDueByCulture(db, today),
    stages: stagesDue({ db, today, business }),
    waiting,
  };
}

export type RoundCulture = {
  row: RoundRowData;
  /** Days until the next look, for cultures on which nothing is due. */
  nextInDays: number;
  /** Something of it is put off. */
  waits: boolean;
};

function openDues(
  culture: KeptCulture,
  dues: readonly CareDue[],
  marks: Marks,
  asked: AskedCount | undefined,
): CareDue[] {
  const isOpen = ({ what, overdueDays }: CareDue) =>
    overdueDays >= 0 && !marks.waits.get(culture.id)?.has(what) && !(what === 'count' && asked);
  // Whoever has looked today has seen to the look, whenever the next is due.
  return dues.filter((due) => isOpen(due) && !(due.what === 'check' && culture.doneEntry !== null));
}

/** The row of a culture, worked out from nothing. */
function rowOf(culture: KeptCulture, marks: Marks): RoundCulture {
  const asked = marks.asked.get(culture.id);
  const dues = careDue(factsOf(culture, marks), marks.today);
  // Nobody knows how much water where none was written down: that wants the form.
  const byTap: Partial<Record<DueKind, boolean>> = {
    feed: true,
    fruit: true,
    water: culture.lastWateredOn !== null,
  };
  const open = openDues(culture, dues, marks, asked).map((due): OpenWork => {
    return { ...due, byTap: byTap[due.what] ?? false };
  });
  const countsOpen = asked && asked.doneEntry === null && !marks.waits.get(culture.id)?.has('count');
  if (countsOpen) {
    const reason = askedCountWords(asked, marks.locale);
    open.push({ what: 'count', reason, overdueDays: 0, dueOn: marks.today, sum: null, byTap: false });
  }
  const [check] = dues;
  return {
    row: {
      code: culture.code,
      scientificName: culture.scientificName,
      place: culture.place,
      shelf: culture.shelf,
      shelfId: culture.shelfId,
      position: culture.position,
      open,
      askedCount: countsOpen ? { id: asked.id, method: asked.method } : null,
      health: culture.health,
      inQuarantine: culture.status === 'quarantine',
      doneEntry: culture.doneEntry,
      counted: asked !== undefined && asked.doneEntry !== null,
    },
    nextInDays: check ? -check.overdueDays : 0,
    waits: marks.waits.has(culture.id),
  };
}

export const isOnRound = ({ open, doneEntry, counted }: RoundRowData) =>
  open.length > 0 || doneEntry !== null || counted;

export type Round = {
  /** All that is kept. */
  all: RoundCulture[];
  /** What is due today or was done today, in walking order. */
  rows: RoundRowData[];
  done: number;
  waiting: PutOff[];
};

/** What a row is made of, besides the culture: as long as this is the same, so is the row. */
type MadeOf = Pick<Marks, 'today' | 'locale'> & {
  asked: string;
  waits: string;
  dries: WaterDue | undefined;
  stages: CareFacts['stages'] | undefined;
};

const keptRows = new WeakMap<KeptCulture, { of: MadeOf; made: RoundCulture }>();

const isSame = (a: MadeOf, b: MadeOf) =>
  a.today === b.today &&
  a.locale === b.locale &&
  a.asked === b.asked &&
  a.waits === b.waits &&
  a.dries === b.dries &&
  a.stages === b.stages;

function keptRowOf(culture: KeptCulture, marks: Marks): RoundCulture {
  const { id } = culture;
  const asked = marks.asked.get(id);
  const waits = marks.waits.get(id);
  const of: MadeOf = {
    today: marks.today,
    locale: marks.locale,
    asked: asked ? JSON.stringify(asked) : '',
    waits: waits ? [...waits].join(' ') : '',
    dries: marks.dries.get(id),
    stages: marks.stages.get(id),
  };
  const before = keptRows.get(culture);
  if (before && isSame(before.of, of)) return before.made;
  const made = rowOf(culture, marks);
  keptRows.set(culture, { of, made });
  return made;
}

type About = Pick<StaffCall, 'db' | 'today' | 'business'>;

function workOutRound(about: About): Round {
  const { waiting, ...marks } = marksOf(about);
  const all = keptFacts(about.db, about.today).map((culture) => keptRowOf(culture, marks));
  const rows = all.map(({ row }) => row).filter(isOnRound);
  return { all, rows, done: rows.filter(({ open }) => open.length === 0).length, waiting };
}

const keptRounds = new WeakMap<Db, { key: string; mark: Mark; round: Round }>();

/**
 * The round of today as it stands now: the very same while nothing was written; else rows of which nothing has changed
 * are the same objects as before.
 */
export function todaysRound(about: About): Round {
  const { db, today, business } = about;
  const key = [today, business.locale, business.units].join(' ');
  const before = keptRounds.get(db);
  const { mark, cultures, air } = touchedSince(db, before?.mark ?? null);
  const isUntouched = cultures !== 'all' && cultures.size === 0 && !air;
  if (before?.key === key && isUntouched) return before.round;
  const round = workOutRound(about);
  // Water that is still being worked out may be due in a moment, without anything being written.
  if (isWaterKnown(db)) keptRounds.set(db, { key, mark, round });
  else keptRounds.delete(db);
  return round;
}

/** What is due now of one culture, for whoever says that it was done. */
export function openOf(call: StaffCall, code: string): DueKind[] {
  const { waiting: _waiting, ...marks } = marksOf(call);
  const culture = keptFacts(call.db, call.today).find((one) => one.code === code);
  return culture ? keptRowOf(culture, marks).row.open.map(({ what }) => what) : [];
}
