import { Fragment, h } from 'preact';
import { partNamed } from '../../shared/checks/round-address.ts';
import { roundNews } from '../../shared/checks/round-form.ts';
import { LeftAt, PartsFoot } from '../../views/checks/part-round-parts.tsx';
import { RoundProgress } from '../../views/checks/part-round-progress.tsx';
import { GoneRow, RoundRow } from '../../views/checks/part-round-row.tsx';
import { type Answer, events, part as partAnswer } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { hearNews } from '../plumbing/news.ts';
import { partOf } from './places.ts';
import { type Round, todaysRound } from './todays-round.ts';

/** Tells an open round which cultures somebody has just seen to. */
export function liveRound({ db }: StaffCall): Answer {
  return events(
    (send) => hearNews(db, ({ topic, about }) => topic === 'round' && send('rows', about)),
    '/round',
  );
}

/** What changes on a page of the round besides the rows: the progress, and of a round in parts what is left where. */
export function alongWithRows(call: StaffCall, round: Round, codes: readonly string[], part: number | null) {
  const { locale } = call.business;
  const { rows, done } = round;
  const progress = h(RoundProgress, { done, total: rows.length, locale, oob: true });
  const { parts, placeKeyOf } = partOf(round, part);
  if (!parts || part === null) return [progress];
  const keys = new Set(codes.map(placeKeyOf));
  const left = parts.places
    .filter(({ key }) => keys.has(key))
    .map((place) => h(LeftAt, { key: place.key, place, locale, oob: true }));
  return [progress, ...left, h(PartsFoot, { parts, locale, oob: true })];
}

/**
 * The rows of these cultures as they stand now, and how far the round is: what an open round asks for when it hears
 * news. `codes` are rows that it shows, `others` stand in other parts: of those only what is left at their places.
 */
export function showRows(call: StaffCall): Answer {
  const { query, furniture } = call;
  const [codes, others] = [roundNews.parse(query.codes), roundNews.parse(query.others)];
  if (codes.length + others.length === 0) return partAnswer(h(Fragment, null));
  const part = partNamed(query.part);
  const round = todaysRound(call);
  const byCode = new Map(round.rows.map((row) => [row.code, row]));
  const nodes = codes.map((code) => {
    const row = byCode.get(code);
    return row ? h(RoundRow, { furniture, row, part, oob: true }) : h(GoneRow, { code });
  });
  const along = alongWithRows(call, round, [...codes, ...others], part);
  return partAnswer(h(Fragment, null, ...nodes, ...along));
}
