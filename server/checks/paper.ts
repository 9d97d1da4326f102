import { h } from 'preact';
import { PaperPage, type PaperPlace } from '../../views/checks/page-paper.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { todaysRound } from './todays-round.ts';

/** What is left of the round, on paper for a clipboard: every place, whatever part of the round it is in. */
export function showPaper(call: StaffCall): Answer {
  const places: PaperPlace[] = [];
  for (const row of todaysRound(call).rows) {
    if (row.open.length === 0) continue;
    const name = row.inQuarantine ? null : row.shelf;
    const last = places.at(-1);
    const isSame = last && last.name === name && last.isQuarantine === row.inQuarantine;
    if (isSame) last.rows.push(row);
    else places.push({ name, isQuarantine: row.inQuarantine, rows: [row] });
  }
  return page(h(PaperPage, { furniture: call.furniture, today: call.today, places }));
}
