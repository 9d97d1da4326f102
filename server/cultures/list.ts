import { h } from 'preact';
import { cultureFilter } from '../../shared/cultures/form.ts';
import { daysBetween } from '../../shared/days.ts';
import { CultureListPage } from '../../views/cultures/page-list.tsx';
import { readTrends } from '../counts/queries-trends.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { exampleOf } from '../surplus/queries-example.ts';
import { choices, hasCultures, listCultures, pageSize } from './queries.ts';

export function showCultures(call: StaffCall): Answer {
  const filter = cultureFilter.parse(call.query);
  const { rows, total } = listCultures(call.db, filter);
  const { species, places } = choices(call.db);
  const ids = rows.map(({ id }) => id);
  const trends = readTrends(call.db, ids, call.today);
  return page(
    h(CultureListPage, {
      furniture: call.furniture,
      filter,
      total,
      pageSize,
      species,
      places,
      hasAny: hasCultures(call.db),
      example: exampleOf(call.db, ids),
      rows: rows.map((row) => ({
        ...row,
        trend: trends.get(row.id) ?? [],
        checkedDaysAgo: row.estimate?.lastCheckOn ? daysBetween(row.estimate.lastCheckOn, call.today) : null,
        countedDaysAgo: row.estimate?.lastCountOn ? daysBetween(row.estimate.lastCountOn, call.today) : null,
      })),
    }),
  );
}
