import { entryWords, kindWords } from '../../views/cultures/entry-words.ts';
import { formatDay } from '../../views/layout/format.ts';
import { loadCulture } from '../cultures/queries.ts';
import { readEntry } from '../cultures/queries-diary.ts';
import { type Answer, data } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { writtenByOthers } from './queries.ts';

/** What others have written for a culture since an instant: whoever wrote without a signal could not know of it. */
export function showMeanwhile(call: StaffCall): Answer {
  const { db, who, params, query, business } = call;
  const { culture } = loadCulture(db, params.code ?? '');
  const since = /^\d{1,15}$/.test(query.since ?? '') ? Number(query.since) : call.clock.now();
  const entries = writtenByOthers(db, culture.id, who.id, since).flatMap(({ id, madeAt, by }) => {
    const entry = readEntry(db, culture.id, id);
    if (!entry) return [];
    const words = [entryWords(entry, business.units), entry.note].filter(Boolean).join('; ');
    return {
      what: `${kindWords[entry.kind] ?? entry.kind}: ${words}`,
      by: by ?? 'Somebody',
      day: formatDay(entry.onDay, business.locale),
      at: madeAt,
    };
  });
  return data({ entries });
}
