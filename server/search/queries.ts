import { and, desc, eq, inArray, isNull, or, sql } from 'drizzle-orm';
import { cultureWithWords } from '../cultures/queries-words.ts';
import { foundByWords } from '../customers/queries.ts';
import type { Db } from '../plumbing/open-database.ts';
import { wordsToMatch } from '../plumbing/search-words.ts';
import { cultures, customers, invoices, orders, places, species } from '../schema/tables.ts';

/** Cultures in which every word is found, kept ones first. */
export function findCultures(db: Db, typed: string, limit: number) {
  const sought = cultureWithWords(typed);
  if (sought === undefined) return [];
  return db
    .select({
      code: cultures.code,
      scientificName: species.scientificName,
      morph: cultures.morph,
      status: cultures.status,
      place: places.fullName,
    })
    .from(cultures)
    .innerJoin(species, eq(species.id, cultures.speciesId))
    .leftJoin(places, eq(places.id, cultures.placeId))
    .where(sought)
    .orderBy(sql`${cultures.status} = 'retired'`, cultures.code)
    .limit(limit)
    .all();
}

export function findSpecies(db: Db, typed: string, limit: number) {
  const match = wordsToMatch(typed);
  if (match === null) return [];
  return db
    .select({ id: species.id, scientificName: species.scientificName, commonName: species.commonName })
    .from(species)
    .where(
      and(
        sql`${species.id} IN (SELECT rowid FROM species_words WHERE species_words MATCH ${match})`,
        isNull(species.retiredAt),
      ),
    )
    .orderBy(species.scientificName)
    .limit(limit)
    .all();
}

/** Orders by their number, or by the words of their customer; the newest first. */
export function findOrders(db: Db, typed: string, limit: number) {
  const number = /^#?\s*(\d{1,9})$/.exec(typed.trim())?.[1];
  const sought = number === undefined ? foundByWords(typed) : eq(orders.number, Number(number));
  if (sought === undefined) return [];
  return db
    .select({
      number: orders.number,
      state: orders.state,
      dispatchOn: orders.dispatchOn,
      customerName: customers.name,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(sought)
    .orderBy(desc(orders.number))
    .limit(limit)
    .all();
}

export function findCustomers(db: Db, typed: string, limit: number) {
  const sought = foundByWords(typed);
  if (sought === undefined) return [];
  return db
    .select({
      id: customers.id,
      name: customers.name,
      postcode: customers.postcode,
      city: customers.city,
      country: customers.country,
    })
    .from(customers)
    .where(and(sought, isNull(customers.retiredAt)))
    .orderBy(sql`${customers.name} COLLATE NOCASE`, customers.id)
    .limit(limit)
    .all();
}

/** Invoices and credit notes by their whole number, or by its figures alone. */
export function findInvoices(db: Db, typed: string, limit: number) {
  const words = typed.trim();
  if (words === '') return [];
  const figures = /^0*([1-9]\d{0,8})$/.exec(words)?.[1];
  const asWritten = inArray(invoices.number, [...new Set([words, words.toUpperCase()])]);
  return db
    .select({ id: invoices.id, number: invoices.number, kind: invoices.kind, issuedOn: invoices.issuedOn })
    .from(invoices)
    .where(figures === undefined ? asWritten : or(asWritten, eq(invoices.id, Number(figures))))
    .orderBy(desc(invoices.id))
    .limit(limit)
    .all();
}
