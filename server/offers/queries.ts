import { and, asc, eq, isNull, ne } from 'drizzle-orm';
import type { Day } from '../../shared/days.ts';
import { type Offer, readyRange, spareShown } from '../../shared/offers/offer.ts';
import type { Language } from '../../shared/settings/languages.ts';
import { spareOfSpecies } from '../orders/queries-stock.ts';
import type { Db } from '../plumbing/open-database.ts';
import { cultures, offerList, species, unlistedSpecies } from '../schema/tables.ts';
import { careIn } from '../species/queries-care.ts';

export type OfferSettings = Omit<typeof offerList.$inferSelect, 'id'>;

/** Off until the owner turns it on. */
export const firstOfferSettings: OfferSettings = {
  isOn: false,
  mayBeFound: false,
  takesRequests: true,
  mostShown: 5,
};

export function offerSettings(db: Db): OfferSettings {
  const { isOn, mayBeFound, takesRequests, mostShown } = offerList;
  return (
    db.select({ isOn, mayBeFound, takesRequests, mostShown }).from(offerList).get() ?? firstOfferSettings
  );
}

export function saveOfferSettings(tx: Db, values: OfferSettings) {
  tx.insert(offerList)
    .values({ id: 1, ...values })
    .onConflictDoUpdate({ target: offerList.id, set: values })
    .run();
}

/** Species for sale that are kept, and whether the list leaves them out. */
export function offerable(db: Db) {
  return db
    .selectDistinct({
      id: species.id,
      scientificName: species.scientificName,
      commonName: species.commonName,
      groupAdults: species.groupAdults,
      groupJuveniles: species.groupJuveniles,
      groupExtras: species.groupExtras,
      priceMinor: species.priceMinor,
      unlistedAt: unlistedSpecies.madeAt,
    })
    .from(species)
    .innerJoin(cultures, and(eq(cultures.speciesId, species.id), ne(cultures.status, 'retired')))
    .leftJoin(unlistedSpecies, eq(unlistedSpecies.speciesId, species.id))
    .where(and(eq(species.sellable, true), isNull(species.retiredAt)))
    .orderBy(asc(species.scientificName))
    .all();
}
export type Offerable = ReturnType<typeof offerable>[number];

export function setListed(tx: Db, speciesId: number, isListed: boolean, madeAt: number) {
  tx.delete(unlistedSpecies).where(eq(unlistedSpecies.speciesId, speciesId)).run();
  if (!isListed) tx.insert(unlistedSpecies).values({ speciesId, madeAt }).run();
}

/** What the cultures of a species can spare; whoever makes the list in several languages reads it once. */
type SpareOf = (speciesId: number) => ReturnType<typeof spareOfSpecies>;
type For = { today: Day; mostShown: number; language: Language };

export function readSpareOnce(db: Db): SpareOf {
  const read = new Map<number, ReturnType<SpareOf>>();
  return (speciesId) => {
    const rows = read.get(speciesId) ?? spareOfSpecies(db, speciesId);
    read.set(speciesId, rows);
    return rows;
  };
}

function nameIn(db: Db, one: Offerable, language: Language): string {
  if (language === 'en') return one.commonName;
  const row = db.select().from(species).where(eq(species.id, one.id)).get();
  const care = row && careIn(db, row, language);
  return care && !care.inEnglish.includes('name') ? care.commonName : one.commonName;
}

/** What the list says of one species; only these fields ever reach a stranger. */
export function offerOf(
  db: Db,
  one: Offerable,
  { today, mostShown, language }: For,
  spareOf: SpareOf = readSpareOnce(db),
): Offer {
  const rows = spareOf(one.id);
  const spare = spareShown(rows, one, mostShown);
  return {
    speciesId: one.id,
    scientificName: one.scientificName,
    commonName: nameIn(db, one, language),
    adults: one.groupAdults,
    juveniles: one.groupJuveniles,
    priceMinor: one.priceMinor,
    spare,
    ready:
      spare.kind === 'none'
        ? readyRange(
            rows.map(({ readyOn }) => readyOn),
            today,
          )
        : null,
  };
}

/** The list as strangers see it: those that are spare or will be. */
export function offersFor(db: Db, asked: For, spareOf: SpareOf = readSpareOnce(db)): Offer[] {
  return offerable(db)
    .filter(({ unlistedAt }) => unlistedAt === null)
    .map((one) => offerOf(db, one, asked, spareOf))
    .filter(({ spare, ready }) => spare.kind !== 'none' || ready !== null);
}
