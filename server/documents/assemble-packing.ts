import { addressLines, whyNotAddressed } from '../../shared/customers/address.ts';
import { picksOf } from '../../shared/orders/picks.ts';
import type { ParcelChoice } from '../../shared/parcels/choice.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import type { CareBatch } from '../../views/documents/care-sheet-data.ts';
import type {
  PackingOverride,
  PackingPick,
  PackingRule,
  PackingSheetData,
  PackingSpecies,
} from '../../views/documents/packing-sheet-data.ts';
import { formatCount } from '../../views/layout/format.ts';
import { type LoadedOrder, linesOf, type OrderLine } from '../orders/queries.ts';
import { allocationsOf, type CurrentAllocation } from '../orders/queries-allocations.ts';
import { languageOf } from '../orders/queries-reader.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readSpecies } from '../species/queries.ts';
import { type Assembled, careSheetOf, cautionsOf } from './assemble-care.ts';
import { type CupsOfSpecies, cupsOf, cupsOfPick, sayCups } from './assemble-cups.ts';
import { type ParcelContext, parcelOf } from './assemble-parcel.ts';
import { customsOf, weightOf } from './assemble-shipping.ts';

/** What both kinds of papers are made from. */
function gather(db: Db, { order }: LoadedOrder) {
  const lines = linesOf(db, order.id);
  const allocations = allocationsOf(db, order.id);
  return { lines, allocations, picks: picksOf(allocations, lines) };
}

type Species = NonNullable<ReturnType<typeof readSpecies>>;

/** Each species once, in the order of the picks. */
function speciesOf(db: Db, lines: readonly OrderLine[]): Map<number, Species> {
  const found = new Map<number, Species>();
  for (const { speciesId } of lines) {
    const species = found.get(speciesId) ?? readSpecies(db, speciesId);
    if (species) found.set(speciesId, species);
  }
  return found;
}

const saySpecies = (species: Species): PackingSpecies => ({
  scientificName: species.scientificName,
  commonName: species.commonName,
  limits: species,
  cautions: cautionsOf(species.cautions),
});

function overridesOf(allocations: readonly CurrentAllocation[], timeZone: string): PackingOverride[] {
  return allocations.flatMap((one) =>
    one.overrideReason === null
      ? []
      : [
          {
            what: `${one.code}: ${formatCount(one.groups, 'group')} (${one.animals} animals), although it had not as many to spare`,
            reason: one.overrideReason,
            byName: one.by ?? 'somebody',
            on: dayInZone(one.madeAt, timeZone),
          },
        ],
  );
}

export type PaperContext = ParcelContext & {
  orderUrl: (number: number) => string;
  /** Of the business. */
  country: string;
  /** The box, the pack and the day that were chosen for an order; null until they are. */
  choiceOf: (orderId: number) => ParcelChoice | null;
  /** Rules and permits that go with an order's parcel. */
  rulesOf: (loaded: LoadedOrder) => PackingRule[];
};

type Pick = ReturnType<typeof gather>['picks'][number];

function sayPick(pick: Pick, cups: number): PackingPick {
  const { makeUp } = pick;
  return {
    cultureCode: pick.code,
    place: pick.place ?? 'no place written down',
    line: pick.line ?? '',
    scientificName: makeUp.scientificName,
    commonName: makeUp.commonName,
    groups: pick.groups,
    perGroup: {
      adults: makeUp.groupAdults,
      juveniles: makeUp.groupJuveniles,
      extras: makeUp.groupExtras,
    },
    cups,
    cupLabel: cupLabel(makeUp, pick.code),
    note: makeUp.separateLines
      ? 'Unrelated starts: each cup from a different line of cultures. Do not put them together.'
      : '',
  };
}

/** One order as it is packed, and the material that it takes. */
export function packingSheetOf(
  db: Db,
  loaded: LoadedOrder,
  context: PaperContext,
): { sheet: PackingSheetData; cups: CupsOfSpecies[]; choice: ParcelChoice | null } {
  const { order, customer } = loaded;
  const { allocations, picks } = gather(db, loaded);
  const choice = context.choiceOf(order.id);
  const species = speciesOf(
    db,
    picks.map((pick) => pick.makeUp),
  );
  const cups = cupsOf(db, picks, (id) => species.get(id)?.animalGroup ?? 'other');
  const byId = new Map(cups.map((one) => [one.speciesId, one]));
  const namesOf = (id: number) => species.get(id) ?? { scientificName: `species ${id}`, commonName: '' };
  const animalsOf = (id: number) => byId.get(id)?.animals ?? 0;
  const sheet: PackingSheetData = {
    orderNumber: String(order.number),
    orderUrl: context.orderUrl(order.number),
    dispatchOn: order.dispatchOn,
    dispatchBy: choice?.dispatchBy ?? null,
    customerName: customer.name,
    country: customer.country,
    addressLines: addressLines(customer),
    note: order.note,
    picks: picks.map((pick) => {
      const how = byId.get(pick.makeUp.speciesId)?.how;
      return sayPick(pick, how ? cupsOfPick(pick, how) : pick.groups);
    }),
    species: [...species.values()].map(saySpecies),
    overrides: overridesOf(allocations, context.timeZone),
    parcel: choice && parcelOf(db, choice, cups, order.dispatchOn, context),
    cups: sayCups(cups, namesOf),
    rules: context.rulesOf(loaded),
    weight: weightOf(db, choice, cups, namesOf),
    customs: customsOf(db, loaded, picks, namesOf, context, animalsOf),
  };
  return { sheet, cups, choice };
}

/** What is written on each cup: whose animals they are and how many were ordered. */
function cupLabel(line: OrderLine, code: string): string {
  const ordered = [line.groupAdults, line.groupJuveniles].filter((n) => n > 0).join(' + ');
  return `${line.scientificName}, ${code}, ${ordered}`;
}

/** What about an order's packing sheet somebody should know before it is printed. */
export function packingConcerns({ order, customer }: LoadedOrder): string[] {
  const address = whyNotAddressed(customer);
  return [
    ...(address ? [`The address of ${customer.name} is not complete. ${address}`] : []),
    ...(order.dispatchOn === null ? ['The order has no dispatch day.'] : []),
  ];
}

export type SheetOfCulture = { cultureId: number; speciesId: number; made: Assembled };

/**
 * One care sheet for each culture in the box, as it would be made now. `packedOn` is the day of packing, or the day it
 * is planned for.
 */
export function careSheetsByCulture(db: Db, loaded: LoadedOrder, today: string): SheetOfCulture[] {
  const { order, customer } = loaded;
  const { picks } = gather(db, loaded);
  const language = languageOf(loaded);
  const seen = new Set<number>();
  return picks.flatMap((pick) => {
    if (seen.has(pick.cultureId)) return [];
    seen.add(pick.cultureId);
    const batch: CareBatch = {
      cultureCode: pick.code,
      line: pick.line ?? '',
      packedOn: pick.packedOn ?? order.dispatchOn ?? today,
      orderNumber: String(order.number),
      customerName: customer.name,
      country: customer.country,
    };
    const { speciesId } = pick.makeUp;
    const made = careSheetOf(db, speciesId, { batch, language });
    return [{ cultureId: pick.cultureId, speciesId, made }];
  });
}

export const careSheetsOf = (db: Db, loaded: LoadedOrder, today: string): Assembled[] =>
  careSheetsByCulture(db, loaded, today).map(({ made }) => made);
