import { getTableColumns } from 'drizzle-orm';
import { getTableConfig, type SQLiteTable } from 'drizzle-orm/sqlite-core';
import type { Db } from '../plumbing/open-database.ts';
import * as tables from '../schema/tables.ts';

/** Every table that holds what somebody wrote down, in the order in which they refer to one another. */
export const exportedTables: readonly SQLiteTable[] = [
  tables.business,
  tables.people,
  tables.signInRules,
  tables.enclosures,
  tables.places,
  tables.species,
  tables.speciesCare,
  tables.speciesLayers,
  tables.speciesLayerParts,
  tables.lines,
  tables.linesApart,
  tables.cultures,
  tables.cultureParents,
  tables.diary,
  tables.contacts,
  tables.careVersions,
  tables.careVersionTexts,
  tables.careVersionTerms,
  tables.speciesStages,
  tables.feederSpecies,
  tables.feederDiets,
  tables.climateSensors,
  tables.climateReadings,
  tables.climateDays,
  tables.climateKeeping,
  tables.climateClosedDays,
  tables.countPhotos,
  tables.detectionUpdates,
  tables.detectionPairs,
  tables.labelSheets,
  tables.labelPrints,
  tables.counting,
  tables.countingUsual,
  tables.roundCounts,
  tables.putOffs,
  tables.startPutOffs,
  tables.culturePlans,
  tables.recipeLayers,
  tables.recipeLayerParts,
  tables.materials,
  tables.mixing,
  tables.boxes,
  tables.boxLogs,
  tables.packs,
  tables.cups,
  tables.groupPacking,
  tables.speciesPacking,
  tables.packingHabits,
  tables.weatherPlaces,
  tables.weatherDays,
  tables.weatherServices,
  tables.weatherAreas,
  tables.carriers,
  tables.parcelHabits,
  tables.movementRules,
  tables.movementOrigin,
  tables.customers,
  tables.orders,
  tables.orderLines,
  tables.orderHistory,
  tables.allocations,
  tables.offerList,
  tables.unlistedSpecies,
  tables.orderRequests,
  tables.orderRequestLines,
  tables.orderParcels,
  tables.parcelChoices,
  tables.orderCareSheets,
  tables.mails,
  tables.arrivalHabits,
  tables.arrivalReports,
  tables.arrivalLosses,
  tables.arrivalWords,
  tables.arrivalPhotos,
  tables.amends,
  tables.trips,
  tables.invoicing,
  tables.taxRates,
  tables.paymentWays,
  tables.invoices,
  tables.invoiceLines,
  tables.invoiceTaxes,
  tables.invoiceBuyers,
  tables.payments,
  tables.erasures,
  tables.imports,
  tables.audit,
  tables.personalReads,
];

/** Tables that are not taken along, each with its reason. */
export const notExported: Record<string, string> = {
  sessions: 'secret: who is signed in',
  one_time_links: 'secret: invitations and resets',
  calendar_feeds: 'secret: addresses of calendars',
  link_key: 'secret: what addresses of orders are signed with',
  order_links: 'secret: addresses of orders',
  arrival_photo_files: 'pictures: in a file of their own, photos.tar',
  second_factors: 'secret: what codes are worked out from',
  recovery_codes: 'secret: codes for a lost phone',
  half_sign_ins: 'secret: sign-ins that wait for a code',
  sign_in_tries: 'of no use elsewhere',
  known_devices: 'secret: browsers that are known',
  form_keys: 'of no use elsewhere',
  clock_seen: 'of no use elsewhere: how late it was',
  first_steps_away: 'of no use elsewhere: that a list of hints is not shown',
  count_photo_files: 'pictures: in a file of their own, photos.tar',
  import_drafts: 'files that were not brought in',
  import_uploads: 'files that were not brought in',
  import_prints: 'worked out from the diary',
  import_touched: 'of use only for undoing an import here',
  weather_fetches: 'of no use elsewhere: when services were asked',
  population_states: 'worked out from the diary',
  estimate_points: 'worked out from the diary',
  culture_estimates: 'worked out from the diary',
};

/** Columns that are secrets, by table. */
const secrets: Record<string, readonly string[]> = {
  people: ['passwordHash'],
  audit: ['salt'],
  climate_sensors: ['tokenHash'],
};

function rowsOf(db: Db, table: SQLiteTable): unknown[] {
  const { name } = getTableConfig(table);
  // A copy: the library hands out the table's own columns, which the whole process works with.
  const columns = { ...getTableColumns(table) };
  for (const secret of secrets[name] ?? []) delete columns[secret];
  return db.select(columns).from(table).all();
}

/**
 * Everything that was written down as one plain object: a list of rows for each table. Instants are milliseconds since
 * 1970 UTC, days YYYY-MM-DD, amounts whole minor units, measures metric with the unit in the name.
 */
export function everything(db: Db, now: number): Record<string, unknown> {
  const rows = exportedTables.map((table) => [getTableConfig(table).name, rowsOf(db, table)]);
  return { madeAt: now, ...Object.fromEntries(rows) };
}
