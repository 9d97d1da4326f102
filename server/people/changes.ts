import { h } from 'preact';
import { csvLines } from '../../shared/records/export.ts';
import { ChainPage } from '../../views/people/page-chain.tsx';
import { ChangesPage } from '../../views/people/page-changes.tsx';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, download, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { askedOf } from './asked-rows.ts';
import { listPeople } from './queries.ts';
import { checkChain, listChanges } from './queries-changes.ts';

const onOnePage = 50;
const inOneFile = 100_000;
const where = '/settings/changes';

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
