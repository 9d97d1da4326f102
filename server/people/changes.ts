import { h } from 'preact';
import { addDays } from '../../shared/days.ts';
import { csvLines } from '../../shared/records/export.ts';
import { instantInZone } from '../../shared/zone-instant.ts';
import { ChainPage } from '../../views/people/page-chain.tsx';
import { ChangesPage } from '../../views/people/page-changes.tsx';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, download, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { listPeople } from './queries.ts';
import { type ChangesAsked, checkChain, listChanges } from './queries-changes.ts';

const onOnePage = 50;
const inOneFile = 100_000;
const where = '/settings/changes';

/** What the address asks for, as typed and as it is looked for; what cannot be understood is not asked for. */
function askedOf({ query, business }: StaffCall) {
  const typed = {
    who: (query.who ?? '').slice(0, 100),
    subject: (query.subject ?? '').trim().slice(0, 100),
    from: dayOf(query.from),
    until: dayOf(query.until),
  };
  const before = /^[1-9]\d{0,14}$/.test(query.before ?? '') ? Number(query.before) : null;
  const asked: ChangesAsked = {
    who: typed.who || null,
    subject: typed.subject || null,
    from: typed.from ? instantInZone(typed.from, 0, business.timeZone) : null,
    until: typed.until ? instantInZone(addDays(typed.until, 1), 0, business.timeZone) : null,
    before,
  };
  return { typed, asked };
}

function dayOf(text: string | undefined): string {
  if (!text || !/^\d{4}-\d{2}-\d{2}$/.test(text)) return '';
  const at = Date.parse(`${text}T00:00:00Z`);
  return Number.isNaN(at) || new Date(at).toISOString().slice(0, 10) !== text ? '' : text;
}

export function showChanges(call: StaffCall): Answer {
  const { typed, asked } = askedOf(call);
  const found = listChanges(call.db, asked, onOnePage + 1);
  const rows = found.slice(0, onOnePage);
  const last = rows.at(-1);
  return page(
    h(ChangesPage, {
      furniture: call.furniture,
      rows,
      people: listPeople(call.db, call.clock.now()).map(({ id, name }) => ({ id, name })),
      asked: typed,
      olderHref: found.length > onOnePage && last ? addressWith(where, { ...typed, before: last.id }) : null,
      csvHref: addressWith(`${where}.csv`, typed),
      timeZone: call.business.timeZone,
      locale: call.business.locale,
    }),
  );
}

export function downloadChanges(call: StaffCall): Answer {
  const rows = listChanges(call.db, askedOf(call).asked, inOneFile);
  const heads = ['number', 'at', 'who', 'action', 'subject', 'before', 'after', 'link'];
  const cells = rows.map((row) => [
    row.id,
    new Date(row.at).toISOString(),
    row.who,
    row.action,
    row.subject,
    row.before,
    row.after,
    row.chain,
  ]);
  const text = `\uFEFF${[...csvLines(heads, cells)].join('')}`;
  return download(text, 'text/csv; charset=utf-8', `changes-${call.today}.csv`);
}

export const checkChanges = (call: StaffCall): Answer =>
  page(h(ChainPage, { furniture: call.furniture, report: checkChain(call.db) }));
