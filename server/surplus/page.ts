import { h } from 'preact';
import { addDays, daysBetween } from '../../shared/days.ts';
import { type SurplusFilter, surplusFilter } from '../../shared/surplus/filter.ts';
import { type SpeciesGroup, SurplusPage } from '../../views/surplus/page-surplus.tsx';
import { meanKinships } from '../lines/queries-kinship.ts';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { type SellableCulture, sellableCultures, sellableSpecies } from './queries.ts';

/** Soon is within the weeks for which customers commonly wait; a count is old after four weeks. */
const soonDays = 21;
const staleDays = 28;
/** What is shown of each species where all are listed, and on a page of one. */
const shownEach = 25;
const pageSize = 100;

/** Within a species, the cultures whose genes are the most common in it come first: selling them loses least. */
function mostCommonFirst(call: StaffCall, groups: SpeciesGroup[]) {
  for (const group of groups) {
    const kinships = meanKinships(call.db, group.speciesId, call.today);
    group.rows = group.rows
      .map((row) => ({ ...row, meanKinship: kinships.get(row.id) ?? null }))
      .sort((a, b) => (b.meanKinship ?? -1) - (a.meanKinship ?? -1));
  }
}

function bySpecies(rows: SellableCulture[], today: string, soonOn: string): SpeciesGroup[] {
  const groups = new Map<number, SpeciesGroup>();
  for (const row of rows) {
    const { speciesId, scientificName, commonName } = row;
    let group = groups.get(speciesId);
    if (!group) {
      const sums = { cultures: 0, groupsNow: 0, readySoon: 0, scale: 0 };
      group = { speciesId, scientificName, commonName, rows: [], ...sums };
      groups.set(speciesId, group);
    }
    group.rows.push({
      ...row,
      meanKinship: null,
      countedDaysAgo: row.lastCountOn ? daysBetween(row.lastCountOn, today) : null,
    });
    group.cultures += 1;
    group.groupsNow += row.spareGroups;
    if (row.readyOn !== null && row.readyOn <= soonOn) group.readySoon += 1;
    group.scale = Math.max(group.scale, row.upper ?? 0, row.capacityMedian ?? 0);
  }
  return [...groups.values()];
}

/** The filters as an address has them; what is as usual is left out. */
function asAsked({ q, species, show, sort }: SurplusFilter) {
  return { q, species, show: show === 'all' ? null : show, sort: sort === 'spare' ? null : sort };
}

export function showSurplus(call: StaffCall): Answer {
  const { db, today } = call;
  const filter = surplusFilter.parse(call.query);
  const soonOn = addDays(today, soonDays);
  const rows = sellableCultures(db, filter, { soon: soonOn, stale: addDays(today, -staleDays) });
  const groups = bySpecies(rows, today, soonOn);
  if (filter.sort === 'common') mostCommonFirst(call, groups);
  const [size, from] = filter.species ? [pageSize, (filter.page - 1) * pageSize] : [shownEach, 0];
  for (const group of groups) group.rows = group.rows.slice(from, from + size);
  const species = sellableSpecies(db);
  return page(
    h(SurplusPage, {
      furniture: call.furniture,
      filter,
      species,
      groups,
      pageSize: size,
      hrefOf: (changed) => addressWith('/surplus', { ...asAsked(filter), ...changed }),
      groupsNow: groups.reduce((sum, g) => sum + g.groupsNow, 0),
      readySoon: groups.reduce((sum, g) => sum + g.readySoon, 0),
      soonOn,
      cultures: rows.length,
      hasAny: species.length > 0,
      mayOrder: call.who.role === 'owner',
      catchingUp: rows.some((r) => r.asOf !== null && r.asOf < today),
    }),
  );
}
