import { z } from 'zod';
import { roundBack } from '../../shared/checks/round-address.ts';
import { formatCount } from '../../views/layout/format.ts';
import { type Answer, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { Refusal } from '../plumbing/errors.ts';
import { tellNews } from '../plumbing/news.ts';
import { gainsNow } from './count-next.ts';
import { askCounts, takeCountsBack } from './queries-round-counts.ts';

/** More counts than a day has room for. */
const most = 12;

const list = z.preprocess(
  (sent) => (typeof sent === 'string' ? [sent] : sent),
  z.array(z.string().min(1).max(200)).min(1).max(most),
);
const handOver = z.object({ codes: list, first: z.coerce.number().int().min(1).max(most), back: roundBack });

const listPath = '/surplus/count-next';

/** The first counts of the list, as whoever pressed saw it, become part of today's round. */
export function handToRound(call: StaffCall): Answer {
  const read = handOver.safeParse(call.body);
  if (!read.success)
    throw new Refusal(400, 'Nothing to hand over', 'Go back to the list and choose how many counts.');
  const { rows } = gainsNow(call);
  const byCode = new Map(rows.map((row) => [row.culture.code, row]));
  const chosen = read.data.codes.slice(0, read.data.first);
  const wanted = chosen.flatMap((code) => {
    const row = byCode.get(code);
    if (!row?.canGain) return [];
    const { known, minutes, planned } = row;
    const gain = known ? known.expectedGroups - known.groupsNow : 0;
    return [{ cultureId: row.culture.id, method: planned.method, minutes, gain }];
  });
  const by = { onDay: call.today, madeBy: call.who.id, madeAt: call.clock.now() };
  const ids = call.once((tx) => askCounts(tx, wanted, by));
  const back = read.data.back ?? listPath;
  if (ids.length === 0)
    return redirect(back, 'Nothing was handed over: these counts are on the round already.');
  tellNews(call.db, { topic: 'round', about: chosen });
  return redirect(back, {
    text: `${formatCount(ids.length, 'count')} handed to today's round.`,
    tone: 'plain',
    links: back !== listPath ? [] : [{ href: '/round', label: 'Open the round' }],
    undo: { action: `${listPath}/undo`, label: 'Undo', fields: { ids: ids.join(',') } },
  });
}

const undoForm = z.object({
  ids: z
    .string()
    .regex(/^\d{1,12}(,\d{1,12}){0,11}$/)
    .transform((text) => text.split(',').map(Number)),
  back: roundBack,
});

/** Takes counts off today's round again. */
export function takeFromRound(call: StaffCall): Answer {
  const read = undoForm.safeParse(call.body);
  if (!read.success) throw new Refusal(400, 'Nothing to take back', 'Reload the page and try again.');
  const { ids, back: asked } = read.data;
  const codes = call.once((tx) =>
    takeCountsBack(tx, ids, { undoneBy: call.who.id, undoneAt: call.clock.now() }),
  );
  tellNews(call.db, { topic: 'round', about: codes });
  const words =
    codes.length > 0
      ? `${formatCount(codes.length, 'count')} taken off today's round.`
      : 'Already taken off.';
  return redirect(asked ?? listPath, words);
}
