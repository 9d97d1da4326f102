import { Fragment, h } from 'preact';
import { roundNews } from '../../shared/checks/round-form.ts';
import { RoundProgress } from '../../views/checks/part-round-progress.tsx';
import { GoneRow, RoundRow } from '../../views/checks/part-round-row.tsx';
import { type Answer, events, part } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { hearNews } from '../plumbing/news.ts';
import { todaysRound } from './todays-round.ts';

/** Tells an open round which cultures somebody has just seen to. */
export function liveRound({ db }: StaffCall): Answer {
  return events(
    (send) => hearNews(db, ({ topic, about }) => topic === 'round' && send('rows', about)),
    '/round',
  );
}

/** The rows of these cultures as they stand now, and the progress: what an open round asks for when it hears news. */
export function showRows(call: StaffCall): Answer {
  const codes = roundNews.parse(call.query.codes);
  if (codes.length === 0) return part(h(Fragment, null));
  const { rows, done } = todaysRound(call);
  const byCode = new Map(rows.map((row) => [row.code, row]));
  const { furniture, business } = call;
  const nodes = codes.map((code) => {
    const row = byCode.get(code);
    return row ? h(RoundRow, { furniture, row, oob: true }) : h(GoneRow, { code });
  });
  const progress = h(RoundProgress, { done, total: rows.length, locale: business.locale, oob: true });
  return part(h(Fragment, null, ...nodes, progress));
}
