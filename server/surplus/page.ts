import { h } from 'preact';
import { addDays, daysBetween } from '../../shared/days.ts';
import { type SurplusFilter, surplusFilter } from '../../shared/surplus/filter.ts';
import { type SpeciesGroup, SurplusPage } from '../../views/surplus/page-surplus.tsx';
import { meanKinships } from '../lines/queries-kinship.ts';
import { addressWith } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { type SellableCulture, sellableCultures, sellableDetails, sellableSpecies } from './queries.ts';
import { exampleOf } from './queries-example.ts';

/** Soon is within the weeks for which customers commonly wait; a count is old after four weeks. */
const soonDays = 21;
const staleDays = 28;
/** What is shown where all species are listed, shared among them, and on a page of one. */
const shownInAll = 200;
const [fewestEach, mostEach] = [8, 25];
const pageSize = 100;

type Found = Omit<SpeciesGroup, 'rows'> & { found: SellableCulture[] };

function bySpecies(rows: SellableCulture[], species: Names, soonOn: string): Found[] {
  const names = new Map(species.map((one) => [one.id, one]));
  const groups = new Map<number, Found>();
  for (const row of rows) {
    const { speciesId } = row;
    let group = groups.get(speciesId);
    if (!group) {
      const { scientificName, commonName } = names.get(speciesId)!;
      const sums = { cultures: 0, groupsNow: 0, readySoon: 0, scale: 0 };
      group = { speciesId, scientificName, commonName, found: [], ...sums };
      groups.set(speciesId, group);
    }
    group.found.push(row);
    group.cultures += 1;
    group.groupsNow += row.spareGroups;
    if (row.readyOn !== null && row.readyOn <= soonOn) group.readySoon += 1;
    group.scale = Math.max(group.scale, row.upper ?? 0, row.capacityMedian ?? 0);
  }
  return [...groups.values()];
}
type Names = ReturnType<typeof sellableSpecies>;

/** The part of each species that is shown. */
function shownOf({ db, today }: StaffCall, groups: Found[], filter: SurplusFilter) {
  const each = Math.min(mostEach, Math.max(fewestEach, Math.floor(shownInAll / Math.max(1, groups.length))));
  const [size, from] = filter.species ? [pageSize, (filter.page - 1) * pageSize] : [each, 0];
  const parts = groups.map(({ found, ...group }) => {
    // Within a species, the cultures whose genes are the most common in it come first: selling them loses least.
    const kinships =
      filter.sort === 'common' ? meanKinships(db, group.speciesId, today) : new Map<number, number>();
    const kinship = ({ id }: SellableCulture) => kinships.get(id) ?? -1;
    if (kinships.size > 0) found.sort((a, b) => kinship(b) - kinship(a));
    return { group, kinships, shown: found.slice(from, from + size) };
  });
  const details = sellableDetails(
    db,
    parts.flatMap(({ shown }) => shown.map(({ id }) => id)),
  );
  const shown = parts.map(({ group, kinships, shown }): SpeciesGroup => {
    const rows = shown.flatMap(({ id }) => {
      const row = details.get(id);
      if (!row) return [];
      const countedDaysAgo = row.lastCountOn ? daysBetween(row.lastCountOn, today) : null;
      return [{ ...row, meanKinship: kinships.get(id) ?? null, countedDaysAgo }];
    });
    return { ...group, rows };
  });
  return { size, shown };
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
  const species = sellableSpecies(db);
  const groups = bySpecies(rows, species, soonOn);
  const { size, shown } = shownOf(call, groups, filter);
  return page(
    h(SurplusPage, {
      furniture: call.furniture,
      filter,
      species,
      groups: shown,
      pageSize: size,
      hrefOf: (changed) => addressWith('/surplus', { ...asAsked(filter), ...changed }),
      groupsNow: groups.reduce((sum, g) => sum + g.groupsNow, 0),
      readySoon: groups.reduce((sum, g) => sum + g.readySoon, 0),
      soonOn,
      cultures: rows.length,
      hasAny: species.length > 0,
      example: exampleOf(
        db,
        shown.flatMap((group) => group.rows.map(({ id }) => id)),
      ),
      mayOrder: call.who.role === 'owner',
      catchingUp: rows.some((r) => r.asOf !== null && r.asOf < today),
    }),
  );
}
