import { addressLines, whyNotAddressed } from '../../shared/customers/address.ts';
import { picksOf } from '../../shared/orders/picks.ts';
import { dayInZone } from '../../shared/zone-day.ts';
import type { CareBatch } from '../../views/documents/care-sheet-data.ts';
import type {
  PackingOverride,
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

/** What both kinds of papers are made from. */
function gather(db: Db, { order }: LoadedOrder) {
  const lines = linesOf(db, order.id);
  const allocations = allocationsOf(db, order.id);
  return { lines, allocations, picks: picksOf(allocations, lines) };
}

/** Each species once, in the order of the picks. */
function speciesOf(db: Db, lines: readonly OrderLine[]): PackingSpecies[] {
  return [...new Set(lines.map((line) => line.speciesId))].flatMap((id) => {
    const species = readSpecies(db, id);
    if (!species) return [];
    const { scientificName, commonName, cautions } = species;
    return [{ scientificName, commonName, limits: species, cautions: cautionsOf(cautions) }];
  });
}

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

export type PaperContext = { orderUrl: (number: number) => string; timeZone: string };

/** One order as it is packed. */
export function packingSheetOf(db: Db, loaded: LoadedOrder, context: PaperContext): PackingSheetData {
  const { order, customer } = loaded;
  const { allocations, picks } = gather(db, loaded);
  return {
    orderNumber: String(order.number),
    orderUrl: context.orderUrl(order.number),
    dispatchOn: order.dispatchOn,
    customerName: customer.name,
    country: customer.country,
    addressLines: addressLines(customer),
    note: order.note,
    picks: picks.map((pick) => ({
      cultureCode: pick.code,
      place: pick.place ?? 'no place written down',
      line: pick.line ?? '',
      scientificName: pick.makeUp.scientificName,
      commonName: pick.makeUp.commonName,
      groups: pick.groups,
      perGroup: {
        adults: pick.makeUp.groupAdults,
        juveniles: pick.makeUp.groupJuveniles,
        extras: pick.makeUp.groupExtras,
      },
      cups: pick.groups,
      cupLabel: cupLabel(pick.makeUp, pick.code),
      note: pick.makeUp.separateLines
        ? 'Unrelated starts: each cup from a different line of cultures. Do not put them together.'
        : '',
    })),
    species: speciesOf(
      db,
      picks.map((pick) => pick.makeUp),
    ),
    overrides: overridesOf(allocations, context.timeZone),
  };
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
