import { h } from 'preact';
import { ledgerCells, ledgerColumns, readPeriod } from '../../shared/invoices/ledger.ts';
import { csvLines } from '../../shared/records/export.ts';
import { LedgerPage } from '../../views/invoices/page-ledger.tsx';
import { type Answer, download, page, wrongForm } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { ledgerRows } from './queries-ledger.ts';

/** Asks for a period; this year's until a day is typed. */
export function askLedger({ furniture, today }: StaffCall): Answer {
  const values = { from: `${today.slice(0, 4)}-01-01`, to: today };
  return page(h(LedgerPage, { furniture, form: { values, errors: {} } }));
}

/** The ledger of a period as CSV; the mark in front lets spreadsheets know that it is UTF-8. */
export function downloadLedger({ db, query, furniture }: StaffCall): Answer {
  const values = { from: query.from ?? '', to: query.to ?? '' };
  const period = readPeriod(values.from, values.to);
  if ('errors' in period)
    return wrongForm(h(LedgerPage, { furniture, form: { values, errors: period.errors } }));
  const cells = [...ledgerRows(db, period)].map(ledgerCells);
  const heads = ledgerColumns.map(([name]) => name);
  const text = `\uFEFF${[...csvLines(heads, cells)].join('')}`;
  return download(text, 'text/csv; charset=utf-8', `ledger-${period.from}-to-${period.to}.csv`);
}
