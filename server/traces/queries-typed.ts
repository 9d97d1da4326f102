import { and, desc, eq, inArray, ne, notInArray, or, sql } from 'drizzle-orm';
import { addDays } from '../../shared/days.ts';
import type { ContactFields } from '../../shared/traces/form.ts';
import { dayFault } from '../../views/cultures/say.ts';
import type { ContactChoices } from '../../views/traces/part-contact-fields.tsx';
import { type Culture, findCulture } from '../cultures/queries.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, species, standingDiary } from '../schema/tables.ts';
import { writeContact } from './queries-contacts.ts';

/** Up to so many cultures are a list to choose from; of more the code is written. */
const mostToChoose = 150;
/** Cultures that food came from this lately are feeder cultures, whatever lives in them. */
const lately = 180;

/** The culture that somebody worked at last on a day, other than this one; what is decided at the desk is no work. */
function handledBefore(db: Db, personId: string, onDay: string, cultureId: number): string | null {
  const last = db
    .select({ code: cultures.code })
    .from(standingDiary)
    .innerJoin(cultures, eq(cultures.id, standingDiary.cultureId))
    .where(
      and(
        eq(standingDiary.onDay, onDay),
        eq(standingDiary.madeBy, personId),
        ne(standingDiary.cultureId, cultureId),
        notInArray(standingDiary.kind, ['quarantine', 'release', 'retirement']),
      ),
    )
    .orderBy(desc(standingDiary.id))
    .limit(1)
    .get();
  return last?.code ?? null;
}

/** What the fields about contacts offer: feeder cultures, the one worked at just before, and all others while few. */
export function contactChoices(
  { db, who, today }: Pick<StaffCall, 'db' | 'who' | 'today'>,
  culture: Pick<Culture, 'id'>,
): ContactChoices {
  const kept = db
    .select({
      code: cultures.code,
      name: sql<string>`CASE ${species.commonName} WHEN '' THEN ${species.scientificName} ELSE ${species.commonName} END`,
      isFeeder: sql<number>`${or(
        inArray(species.animalGroup, ['fly', 'springtail']),
        sql`${cultures.id} IN (SELECT other_culture_id FROM diary INDEXED BY diary_contacts
          WHERE kind = 'feed' AND other_culture_id IS NOT NULL AND on_day >= ${addDays(today, -lately)})`,
      )}`,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .where(and(ne(cultures.status, 'retired'), ne(cultures.id, culture.id)))
    .orderBy(cultures.code)
    .all();
  const named = ({ code, name }: (typeof kept)[number]) => ({ code, name });
  return {
    before: handledBefore(db, who.id, today, culture.id),
    feeders: kept.filter((c) => c.isFeeder === 1).map(named),
    others: kept.length > mostToChoose ? null : kept.filter((c) => c.isFeeder === 0).map(named),
  };
}

/** The contacts of one form, their cultures found. */
export type Contacts = {
  feeder: { id: number; code: string; name: string } | null;
  toolsFromId: number | null;
};

type About = { culture: Pick<Culture, 'id' | 'code'>; onDay: string; today: string; locale: string };

/** The culture of a code that was typed, or why it cannot have had contact with this one that day. */
export function otherCulture(
  db: Db,
  code: string,
  { culture, onDay, today, locale }: About,
): Culture | string {
  const other = findCulture(db, code);
  if (!other) return `No culture here has the code ${code}.`;
  if (other.id === culture.id) return `${other.code} is this culture itself.`;
  return dayFault(other, onDay, today, locale) ?? other;
}

function speciesName(db: Db, speciesId: number): string {
  const row = db.select().from(species).where(eq(species.id, speciesId)).get();
  return row?.commonName || (row?.scientificName ?? '');
}

/** Holds what a form says of contacts against the stock. */
export function readContacts(
  db: Db,
  { feederFrom, tools, toolsFrom }: ContactFields,
  about: About,
): { contacts: Contacts; errors: Record<string, string> } {
  const errors: Record<string, string> = {};
  const contacts: Contacts = { feeder: null, toolsFromId: null };
  if (feederFrom !== undefined) {
    const found = otherCulture(db, feederFrom, about);
    if (typeof found === 'string') errors.feederFrom = found;
    else contacts.feeder = { id: found.id, code: found.code, name: speciesName(db, found.speciesId) };
  }
  if (tools === 'yes') {
    const found =
      toolsFrom === undefined ? 'Say which culture they were used at.' : otherCulture(db, toolsFrom, about);
    if (typeof found === 'string') errors.toolsFrom = found;
    else contacts.toolsFromId = found.id;
  }
  return { contacts, errors };
}

/** Writes down that tools came from another culture uncleaned, along with the entry of what was done with them. */
export function writeSharedTool(
  tx: Db,
  { toolsFromId }: Pick<Contacts, 'toolsFromId'>,
  entry: { id: number; cultureId: number; onDay: string; madeBy: string | null; madeAt: number },
) {
  if (toolsFromId === null) return;
  const { id, cultureId, onDay, madeBy, madeAt } = entry;
  writeContact(
    tx,
    { onDay, fromId: toolsFromId, toId: cultureId, kind: 'shared tool', diaryId: id },
    { madeBy, madeAt },
  );
}
