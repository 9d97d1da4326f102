import type { PlaceRows } from '../../views/checks/part-round-place.tsx';
import type { RoundRowData } from '../../views/checks/part-round-row.tsx';
import type { AirSaid, AirWarningData } from '../../views/climate/part-air-warning.tsx';
import { airNow, airSaid } from '../climate/queries-warnings.ts';
import type { StaffCall } from '../plumbing/call.ts';

export type RoundAir = AirSaid & {
  /** Where nothing is due and animals are in the wrong air all the same: on top of the round. */
  elsewhere: AirWarningData[];
  /** By the key of a place of the round: each warning once on a page, at the first place it is about. */
  atPlace: ReadonlyMap<string, AirWarningData[]>;
};

/** Which places are too warm or too cold for what is kept there, where the walk comes past them. */
export function airOnRound(
  call: StaffCall,
  places: readonly PlaceRows[],
  all: readonly RoundRowData[],
): RoundAir {
  const { warnings, around } = airNow(call.db, call.clock.now());
  const atPlace = new Map<string, AirWarningData[]>();
  if (warnings.length === 0) return { ...airSaid(call), elsewhere: [], atPlace };
  const said = new Set<number | null>();
  for (const { key, rows } of places) {
    const met = new Set(rows.map(({ shelfId }) => around(shelfId)).filter((id) => !said.has(id)));
    const own = warnings.filter(({ placeId }) => met.has(placeId));
    for (const id of met) said.add(id);
    if (own.length > 0) atPlace.set(key, own);
  }
  const walked = new Set(all.map(({ shelfId }) => around(shelfId)));
  return { ...airSaid(call), elsewhere: warnings.filter(({ placeId }) => !walked.has(placeId)), atPlace };
}
