import type { Db, Sqlite } from '../../server/plumbing/open-database.ts';
import { cultureParents, cultures, enclosures, lines, places, species } from '../../server/schema/tables.ts';
import { codeLetters } from '../../shared/cultures/next-code.ts';
import { addDays } from '../../shared/days.ts';
import { type Chance, makeChance } from '../demo/chance.ts';
import {
  type Colony,
  check,
  count,
  type DemoEntry,
  type EnclosureRow,
  found,
  growTo,
  type SpeciesRow,
} from '../demo/colony.ts';
import { cast } from '../demo/story.ts';
import { noonOf } from '../demo/write-story.ts';

/** Cultures are as old whatever is asked for, so that the two differ in nothing but the length of their diaries. */
const entriesEach = 1_000;
/** The youngest culture stands for so many days less than the oldest. */
const foundingSpanDays = 300;
/** A look every so many days, and a count of what shows every so many looks. */
const lookEveryDays = 3;
const countEvery = 27;
/** What a look leaves in the diary on average: the look itself, and often water or food. */
const entriesPerLook = 1.84;
const historyDays = (entriesEach / entriesPerLook) * lookEveryDays;

type Kind = { row: SpeciesRow; enclosure: EnclosureRow };
type Made = Colony & { id: number; dated: DemoEntry[] };

function kindsOf(db: Db): Kind[] {
  const rows = db.select().from(species).all();
  const homes = db.select().from(enclosures).all();
  return cast.map((plan) => ({
    row: rows.find((row) => row.scientificName === plan.scientificName)!,
    enclosure: homes.find((home) => home.name === plan.enclosure)!,
  }));
}

/** A room with racks of five shelves, each with twenty positions: one for every culture. */
function writePositions(tx: Db, howMany: number): number[] {
  const ids: number[] = [];
  const put = (kind: 'room' | 'rack' | 'shelf' | 'position', name: string, under: Place | null) => {
    const fullName = under ? `${under.fullName} / ${name}` : name;
    const own = name.replace(/\D/g, '').padStart(3, '0');
    const shelfOrder = under ? `${under.shelfOrder}.${own}` : '900';
    return tx
      .insert(places)
      .values({ kind, name, parentId: under?.id ?? null, fullName, shelfOrder })
      .returning()
      .get();
  };
  const room = put('room', 'Long house', null);
  for (let rack = 1; ids.length < howMany; rack += 1) {
    const rackRow = put('rack', `Rack ${rack}`, room);
    for (let shelf = 1; shelf <= 5; shelf += 1) {
      const shelfRow = put('shelf', `Shelf ${shelf}`, rackRow);
      for (let at = 1; at <= 20; at += 1) ids.push(put('position', String(at), shelfRow).id);
    }
  }
  return ids;
}
type Place = { id: number; fullName: string; shelfOrder: string };

/** The life of one culture up to a few days ago: looks, water, food and counts, the last look with a count. */
function liveOn(chance: Chance, colony: Colony, today: string) {
  const lastOn = addDays(today, -chance.whole(0, 8));
  let looks = 0;
  for (let day = addDays(colony.foundedOn, 2); day < lastOn; day = addDays(day, lookEveryDays)) {
    growTo(chance, colony, day);
    check(chance, colony, day);
    looks += 1;
    if (looks % countEvery === 0) count(chance, colony, day);
  }
  const beforeOn = addDays(lastOn, -2);
  if (beforeOn > colony.lastDay) {
    growTo(chance, colony, beforeOn);
    count(chance, colony, beforeOn);
  }
  growTo(chance, colony, lastOn);
  check(chance, colony, lastOn);
}

type Founding = { kind: Kind; index: number; foundedOn: string; lineId: number; placeId: number };

function insertCulture(tx: Db, { kind, index, foundedOn, lineId, placeId }: Founding, isSplit: boolean) {
  const code = `${codeLetters(kind.row.scientificName)}-${String(index + 1).padStart(4, '0')}`;
  const { id } = tx
    .insert(cultures)
    .values({
      code,
      speciesId: kind.row.id,
      morph: '',
      lineId,
      enclosureId: kind.enclosure.id,
      placeId,
      foundedOn,
      origin: isSplit ? 'split' : 'bought',
      foundingAnimals: 30,
      foundingSdLog: 0.05,
      status: 'active',
      note: '',
      madeAt: noonOf(foundedOn),
    })
    .returning({ id: cultures.id })
    .get();
  return { id, code };
}

/** All cultures with their lives; three of four are splits of an earlier one, which says so in its diary. */
function foundAll(tx: Db, chance: Chance, o: Stock): Made[] {
  const kinds = kindsOf(tx);
  const positions = writePositions(tx, o.cultures);
  const oldestOn = addDays(o.today, -Math.ceil(historyDays + foundingSpanDays / 2));
  const lineIds = kinds.map((kind) =>
    ['Coast', 'Hill', 'Wood'].map((name) => {
      const values = { speciesId: kind.row.id, name, locality: '', note: '' };
      return tx.insert(lines).values(values).returning({ id: lines.id }).get().id;
    }),
  );
  const made: Made[] = [];
  for (let index = 0; index < o.cultures; index += 1) {
    const at = index % kinds.length;
    const kind = kinds[at]!;
    const foundedOn = addDays(oldestOn, Math.floor((index / o.cultures) * foundingSpanDays));
    const older = made.filter((_, i) => i % kinds.length === at);
    const parent = older.length > 12 && chance.happens(0.75) ? chance.pick(older) : null;
    const lineIndex = parent?.lineIndex ?? chance.whole(0, 2);
    const founding = { kind, index, foundedOn, lineId: lineIds[at]![lineIndex]!, placeId: positions[index]! };
    const { id, code } = insertCulture(tx, founding, parent !== null);
    const start = { code, foundedOn, animals: 30, parent: parent?.code ?? null, lineIndex };
    const colony = found(chance, kind.row, kind.enclosure, start);
    if (parent) {
      tx.insert(cultureParents).values({ cultureId: id, parentId: parent.id, animals: 30 }).run();
      const split = { onDay: foundedOn, kind: 'split', animals: 30, adults: 30, by: 'owner' } as const;
      parent.dated.push({ ...split, otherCultureId: id });
    }
    made.push({ ...colony, id, dated: [] });
  }
  return made;
}

/** The columns that lives of the demo fill; all others are empty. */
const columns = {
  on_day: 'onDay',
  kind: 'kind',
  animals: 'animals',
  adults: 'adults',
  other_culture_id: 'otherCultureId',
  surface: 'surface',
  springtails: 'springtails',
  springtails_where: 'springtailsWhere',
  young_seen: 'youngSeen',
  eggs_seen: 'eggsSeen',
  mould_seen: 'mouldSeen',
  mites_seen: 'mitesSeen',
  count_input: 'countInput',
  water_ml: 'waterMl',
  food: 'food',
  substrate: 'substrate',
} as const satisfies Record<string, keyof DemoEntry>;

const plain = (value: unknown) => (typeof value === 'boolean' ? Number(value) : (value ?? null));

/** Day after day over all cultures, as a diary is written, so that one culture's entries lie far apart in the file. */
function writeEntries(sqlite: Sqlite, made: readonly Made[], say: (words: string) => void) {
  const names = Object.keys(columns);
  const insert = sqlite.prepare(
    `INSERT INTO diary (culture_id, withdrawn, note, via, made_by, made_at, ${names.join(', ')})
     VALUES (?, 0, '', 'page', ?, ?, ${names.map(() => '?').join(', ')})`,
  );
  const byDay = new Map<string, { id: number; entry: DemoEntry }[]>();
  for (const { id, entries, dated } of made)
    for (const entry of [...entries, ...dated]) {
      const list = byDay.get(entry.onDay) ?? [];
      if (list.length === 0) byDay.set(entry.onDay, list);
      list.push({ id, entry });
    }
  let written = 0;
  const writeDays = sqlite.transaction((days: string[]) => {
    for (const day of days)
      for (const { id, entry } of byDay.get(day) ?? []) {
        const values = Object.values(columns).map((name) => plain(entry[name]));
        insert.run(id, entry.by === 'owner' ? 'demo-owner' : 'demo-helper', noonOf(day), ...values);
        written += 1;
      }
  });
  const days = [...byDay.keys()].sort();
  for (let at = 0; at < days.length; at += 60) writeDays(days.slice(at, at + 60));
  say(`${written} entries are written`);
  return written;
}

export type Stock = { cultures: number; entries: number; today: string };

/**
 * So many cultures on shelves of their own, in lines, with about so many entries (the newest of their lives) in their
 * diaries: all through the schema and its triggers. What follows from them (estimates) is not worked out yet.
 */
export function writeLoadStock(db: Db, sqlite: Sqlite, o: Stock, say: (words: string) => void): number {
  const chance = makeChance(11);
  const made = db.transaction((tx) => foundAll(tx, chance, o));
  const kept = Math.max(5, Math.round(o.entries / o.cultures));
  for (const one of made) {
    liveOn(chance, one, o.today);
    if (kept < entriesEach) one.entries = one.entries.slice(-kept);
  }
  return writeEntries(sqlite, made, say);
}

/** The people of the peak: helpers beside the two owners. */
export const personName = (role: 'helper' | 'owner', index: number) => `load-${role}-${index}`;
