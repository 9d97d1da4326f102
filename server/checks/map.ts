import { h } from 'preact';
import { rackMap } from '../../shared/checks/rack-map.ts';
import { type MapCulture, MapPage, mostOnMap } from '../../views/checks/page-map.tsx';
import type { RoundRowData } from '../../views/checks/part-round-row.tsx';
import { listPlaces } from '../places/queries.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { placesOfCultures } from './queries-places.ts';
import { todaysRound } from './todays-round.ts';

const onMap = (row: RoundRowData): MapCulture => ({
  code: row.code,
  scientificName: row.scientificName,
  health: row.health,
  inQuarantine: row.inQuarantine,
  open: row.open,
  isDone: row.doneEntry !== null || row.counted,
});

/** The racks with everything that stands in them, and what is due or in trouble; one rack at a time where they are many. */
export function showMap(call: StaffCall): Answer {
  const { all } = todaysRound(call);
  const standsAt = placesOfCultures(call.db);
  const standing = all.map(({ row }) => ({ placeId: standsAt.get(row.code) ?? null, culture: onMap(row) }));
  const places = listPlaces(call.db)
    .map(({ place }) => place)
    .filter(({ retiredAt }) => retiredAt === null);
  const { racks, nowhere } = rackMap(places, standing);
  const isWhole = all.length <= mostOnMap;
  const asked = Number(call.query.rack);
  const chosen = racks.find(({ id }) => id === asked) ?? (isWhole ? null : (racks[0] ?? null));
  return page(
    h(MapPage, {
      furniture: call.furniture,
      today: call.today,
      racks,
      shown: chosen ? [chosen] : racks,
      nowhere: chosen ? [] : nowhere,
      chosenId: chosen?.id ?? null,
      isWhole,
    }),
  );
}
