import { type ParcelWeight, parcelWeight, type WeighedPart } from '../../shared/documents/parcel-weight.ts';
import type { ParcelChoice } from '../../shared/parcels/choice.ts';
import { countryName } from '../../shared/settings/countries.ts';
import type { PackingCustoms } from '../../views/documents/packing-sheet-data.ts';
import { formatMoney } from '../../views/layout/format.ts';
import type { LoadedOrder } from '../orders/queries.ts';
import { readBox, readPack } from '../parcels/queries-stock.ts';
import type { Db } from '../plumbing/open-database.ts';
import type { CupsOfSpecies, Taken } from './assemble-cups.ts';
import { readPackingHabits } from './queries-packing.ts';

type Names = { scientificName: string; commonName: string };
type NamesOf = (speciesId: number) => Names;

/** A box's weight is asked for with a nought to begin with: a box of no weight was not weighed. */
const weighed = (massG: number | undefined): number | null => (massG && massG > 0 ? massG : null);

/** What a parcel weighs, as far as anybody weighed its parts. */
export function weightOf(
  db: Db,
  choice: ParcelChoice | null,
  cups: readonly CupsOfSpecies[],
  namesOf: NamesOf,
): ParcelWeight {
  const box: WeighedPart = {
    what: choice ? 'box' : 'box (not chosen)',
    count: 1,
    eachG: choice ? weighed(readBox(db, choice.box.id)?.emptyMassG) : null,
  };
  const packs: WeighedPart[] = choice?.pack
    ? [
        {
          what: choice.packs === 1 ? 'pack' : 'packs',
          count: choice.packs,
          eachG: weighed(readPack(db, choice.pack.id)?.massG),
        },
      ]
    : [];
  return parcelWeight([
    box,
    ...packs,
    ...cups.map(({ cup, count }) => ({
      what: `${count === 1 ? 'cup' : 'cups'}${cup ? ` “${cup.name}”` : ''}`,
      count,
      eachG: cup?.emptyMassG ?? null,
    })),
    ...cups.map(({ speciesId, animals, how }) => ({
      what: namesOf(speciesId).scientificName,
      count: animals,
      eachG: how.animalMassMg === null ? null : how.animalMassMg / 1_000,
    })),
  ]);
}

/** What a customs form asks for where the parcel leaves the business's country; null where it does not. */
export function customsOf(
  db: Db,
  { order, customer }: LoadedOrder,
  picks: readonly Taken[],
  namesOf: NamesOf,
  { country, locale }: { country: string; locale: string },
  animalsOf: (speciesId: number) => number,
): PackingCustoms | null {
  if (customer.country === country || customer.country === '') return null;
  const money = (minor: number) => formatMoney(minor, order.currency, locale);
  const worth = new Map<number, number>();
  for (const { makeUp, groups } of picks)
    worth.set(makeUp.speciesId, (worth.get(makeUp.speciesId) ?? 0) + groups * makeUp.priceMinor);
  return {
    from: countryName(country),
    to: countryName(customer.country),
    contents: [...worth].map(([speciesId, minor]) => ({
      ...namesOf(speciesId),
      animals: animalsOf(speciesId),
      value: money(minor),
    })),
    value: money([...worth.values()].reduce((sum, minor) => sum + minor, 0)),
    heading: readPackingHabits(db).customsHeading,
  };
}
