import { h } from 'preact';
import { csvLines } from '../../shared/records/export.ts';
import { ReadsPage } from '../../views/people/page-reads.tsx';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, download, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { askedOf } from './asked-rows.ts';
import { listPeople } from './queries.ts';
import { listReads } from './queries-reads.ts';

const onOnePage = 50;
const inOneFile = 100_000;
const where = '/settings/reads';

export function showReads(call: StaffCall): Answer {
  const { typed, asked } = askedOf(call);
  const found = listReads(call.db, asked, onOnePage + 1);
  const rows = found.slice(0, onOnePage);
  const last = rows.at(-1);
  return page(
    h(ReadsPage, {
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

export function downloadReads(call: StaffCall): Answer {
  const rows = listReads(call.db, askedOf(call).asked, inOneFile);
  const heads = ['number', 'first at', 'who', 'subject', 'way'];
  const cells = rows.map(({ id, at, who, subject, way }) => [
    id,
    new Date(at).toISOString(),
    who,
    subject,
    way,
  ]);
  const text = `\uFEFF${[...csvLines(heads, cells)].join('')}`;
  return download(text, 'text/csv; charset=utf-8', `reads-${call.today}.csv`);
}
