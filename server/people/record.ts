import { addDays, isDay } from '../../shared/days.ts';
import { csvLines } from '../../shared/records/export.ts';
import { instantInZone } from '../../shared/zone-instant.ts';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, download } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { listPeople } from './queries.ts';
import type { RowsAsked } from './queries-changes.ts';

const onOnePage = 50;
const inOneFile = 100_000;

/** The day after the last one of the calendar cannot be written, so nobody can ask for all until then. */
const lastDay = '9999-12-30';
const dayOf = (text: string | undefined): string => (text && isDay(text) && text <= lastDay ? text : '');

/** What the address asks for, as typed and as it is looked for; what cannot be understood is not asked for. */
function askedOf({ query, business }: StaffCall) {
  const typed = {
    who: (query.who ?? '').slice(0, 100),
    subject: (query.subject ?? '').trim().slice(0, 100),
    from: dayOf(query.from),
    until: dayOf(query.until),
  };
  const before = /^[1-9]\d{0,14}$/.test(query.before ?? '') ? Number(query.before) : null;
  const asked: RowsAsked = {
    who: typed.who || null,
    subject: typed.subject || null,
    from: typed.from ? instantInZone(typed.from, 0, business.timeZone) : null,
    until: typed.until ? instantInZone(addDays(typed.until, 1), 0, business.timeZone) : null,
    before,
  };
  return { typed, asked };
}

type List<Row> = (db: Db, asked: RowsAsked, most: number) => Row[];

/** What a page of a record shows, newest first, with the way to what is older. */
export function pageOfRecord<Row extends { id: number }>(call: StaffCall, where: string, list: List<Row>) {
  const { typed, asked } = askedOf(call);
  const found = list(call.db, asked, onOnePage + 1);
  const rows = found.slice(0, onOnePage);
  const last = rows.at(-1);
  return {
    furniture: call.furniture,
    rows,
    people: listPeople(call.db, call.clock.now()).map(({ id, name }) => ({ id, name })),
    asked: typed,
    olderHref: found.length > onOnePage && last ? addressWith(where, { ...typed, before: last.id }) : null,
    csvHref: addressWith(`${where}.csv`, typed),
    timeZone: call.business.timeZone,
    locale: call.business.locale,
  };
}

/** The same as a file, with all that is asked for. */
export function fileOfRecord<Row>(
  call: StaffCall,
  name: string,
  list: List<Row>,
  columns: Record<string, (row: Row) => string | number | null>,
): Answer {
  const rows = list(call.db, askedOf(call).asked, inOneFile);
  const cells = rows.map((row) => Object.values(columns).map((cell) => cell(row)));
  const text = `\uFEFF${[...csvLines(Object.keys(columns), cells)].join('')}`;
  return download(text, 'text/csv; charset=utf-8', `${name}-${call.today}.csv`);
}
