import { h } from 'preact';
import { daysBetween } from '../../shared/days.ts';
import { byGain } from '../../shared/surplus/count-next.ts';
import {
  type CountNextFilter,
  countNextFilter,
  worthCounting,
} from '../../shared/surplus/count-next-filter.ts';
import { CountNextPage, type CountNextRow } from '../../views/surplus/page-count-next.tsx';
import { readHabits } from '../counts/queries-habits.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { sellableSpecies } from './queries.ts';
import { type Countable, countables } from './queries-gains.ts';
import { type AskedCount, countsAskedFor, countsLeftOver } from './queries-round-counts.ts';
import { seeToGains } from './work-out-gains.ts';

const staleDays = 28;
const pageSize = 50;

export function gainsNow(call: StaffCall): { rows: Countable[]; missing: number; minutesAreFirst: boolean } {
  const { db, today } = call;
  const { habits, minutesAreFirst } = readHabits(db);
  const rows = countables(db, habits, today);
  const missing = rows.filter((row) => row.canGain && !row.known);
  if (missing.length === 0) return { rows, missing: 0, minutesAreFirst };
  seeToGains(db, missing, { habits, today, log: call.log });
  const after = countables(db, habits, today);
  return { rows: after, missing: after.filter((row) => row.canGain && !row.known).length, minutesAreFirst };
}

type Asked = { today: Map<number, AskedCount>; before: Map<number, AskedCount> };

function asked({ db, today }: StaffCall): Asked {
  const by = (list: AskedCount[]) => new Map(list.map((one) => [one.cultureId, one]));
  return { today: by(countsAskedFor(db, today)), before: by(countsLeftOver(db, today)) };
}

function rowOf(row: Countable, today: string, { today: now, before }: Asked): CountNextRow {
  const { culture, species, estimate, known, minutes, planned } = row;
  const gain = known ? known.expectedGroups - known.groupsNow : null;
  return {
    ...{ code: culture.code, morph: culture.morph, line: row.line, place: row.place },
    ...{ speciesId: species.id, scientificName: species.scientificName },
    ...{ fault: estimate.fault ?? known?.fault ?? null, health: estimate.health },
    ...{ median: estimate.median, lower: estimate.lower, upper: estimate.upper },
    ...{ reserve: estimate.reserve, capacityMedian: estimate.capacityMedian, limitedBy: estimate.limitedBy },
    countedDaysAgo: estimate.lastCountOn ? daysBetween(estimate.lastCountOn, today) : null,
    canGain: row.canGain,
    method: planned.method,
    minutes,
    gain:
      known && gain !== null && !known.fault
        ? { now: known.groupsNow, expected: known.expectedGroups, gain, perMinute: gain / minutes }
        : null,
    askedToday: now.has(culture.id),
    notCountedSince: before.get(culture.id)?.onDay ?? null,
  };
}

const sortable = (row: CountNextRow) => ({
  code: row.code,
  gain: row.gain?.gain ?? Number.NEGATIVE_INFINITY,
  gainPerMinute: row.gain?.perMinute ?? Number.NEGATIVE_INFINITY,
});

function fits({ species, q, show }: CountNextFilter, row: CountNextRow): boolean {
  const wanted = q.toLowerCase();
  const words = [row.code, row.morph, row.line ?? '', row.place ?? ''];
  if (species !== undefined && row.speciesId !== species) return false;
  if (wanted && !words.some((word) => word.toLowerCase().includes(wanted))) return false;
  switch (show) {
    case 'worth':
      return row.gain !== null && row.gain.gain >= worthCounting;
    case 'old':
      return row.countedDaysAgo === null || row.countedDaysAgo >= staleDays;
    case 'held':
      return !row.canGain || row.health === 'die-off';
    case 'all':
      return true;
  }
}

function ordered(rows: CountNextRow[], sort: CountNextFilter['sort'], shelfOrders: Map<string, string>) {
  const gainFirst = rows.sort((a, b) => byGain(sortable(a), sortable(b)));
  if (sort === 'groups') gainFirst.sort((a, b) => sortable(b).gain - sortable(a).gain || 0);
  if (sort === 'code') gainFirst.sort((a, b) => (a.code < b.code ? -1 : 1));
  if (sort === 'place') {
    const at = (row: CountNextRow) => shelfOrders.get(row.code) ?? '~';
    gainFirst.sort((a, b) => (at(a) === at(b) ? 0 : at(a) < at(b) ? -1 : 1));
  }
  return gainFirst;
}

export function showCountNext(call: StaffCall): Answer {
  const filter = countNextFilter.parse(call.query);
  const { rows, missing, minutesAreFirst } = gainsNow(call);
  const marks = asked(call);
  const all = rows.map((row) => rowOf(row, call.today, marks));
  const shelfOrders = new Map(rows.map((row) => [row.culture.code, row.shelfOrder ?? '~']));
  const listed = ordered(
    all.filter((row) => fits(filter, row)),
    filter.sort,
    shelfOrders,
  );
  const ranked = ordered([...listed], 'gain', shelfOrders);
  const from = (Math.min(filter.page, Math.max(1, Math.ceil(listed.length / pageSize))) - 1) * pageSize;
  return page(
    h(CountNextPage, {
      furniture: call.furniture,
      filter: { ...filter, page: from / pageSize + 1 },
      species: sellableSpecies(call.db),
      rows: listed.slice(from, from + pageSize),
      first: ranked.filter((row) => row.gain !== null && row.gain.gain >= worthCounting).slice(0, 12),
      total: listed.length,
      pageSize,
      sold: all.length,
      canGain: all.filter((row) => row.canGain).length,
      missing,
      minutesAreFirst,
      isOwner: call.who.role === 'owner',
    }),
  );
}
