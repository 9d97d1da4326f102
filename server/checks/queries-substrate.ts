import { and, eq, isNotNull, ne, sql } from 'drizzle-orm';
import type { Due } from '../../shared/checks/due.ts';
import { substrateDue } from '../../shared/checks/substrate-due.ts';
import { addDays, type Day } from '../../shared/days.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, feederSpecies, places, species } from '../schema/tables.ts';

const renewedOn = sql<string | null>`(SELECT max(d.on_day) FROM standing_diary d
  WHERE d.culture_id = ${cultures.id} AND d.substrate IS NOT NULL)`;

/** Cultures whose substrate is renewed at all; a feeder culture is started anew instead. */
const withRhythm = (db: Db, cultureId?: number) =>
  db
    .select({
      cultureId: cultures.id,
      code: cultures.code,
      speciesId: cultures.speciesId,
      scientificName: species.scientificName,
      place: places.fullName,
      enclosureId: cultures.enclosureId,
      foundedOn: cultures.foundedOn,
      everyMonths: species.substrateMonths,
      renewedOn,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(feederSpecies, eq(feederSpecies.speciesId, cultures.speciesId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .where(
      and(
        ne(cultures.status, 'retired'),
        isNotNull(species.substrateMonths),
        sql`${feederSpecies.speciesId} IS NULL`,
        cultureId === undefined ? undefined : eq(cultures.id, cultureId),
      ),
    )
    .orderBy(sql`coalesce(${places.shelfOrder}, '~')`, cultures.code)
    .all();

/** How old the substrate of one culture is by the rhythm of its species; null where it is never renewed. */
export function substrateOf(db: Db, cultureId: number, today: Day): Due | null {
  const [culture] = withRhythm(db, cultureId);
  return culture ? substrateDue(culture, today) : null;
}

export type Renewal = {
  cultureId: number;
  code: string;
  speciesId: number;
  scientificName: string;
  place: string | null;
  enclosureId: number;
  /** The day it is due; today where that has passed. */
  onDay: Day;
  reason: string;
};

/** Which cultures want their substrate renewed from today on for so many days, overdue ones first, then by day. */
export function renewalsWithin(db: Db, today: Day, days: number): Renewal[] {
  const until = addDays(today, days);
  return withRhythm(db)
    .flatMap(({ foundedOn, everyMonths, renewedOn: on, ...culture }) => {
      const due = substrateDue({ foundedOn, everyMonths, renewedOn: on }, today);
      if (!due || due.dueOn > until) return [];
      return [{ ...culture, onDay: due.dueOn < today ? today : due.dueOn, reason: due.reason }];
    })
    .sort((a, b) => a.onDay.localeCompare(b.onDay));
}
