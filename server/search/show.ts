import { h } from 'preact';
import { cultureHref } from '../../views/cultures/page-list.tsx';
import { SearchPage } from '../../views/search/page-search.tsx';
import { Found } from '../../views/search/part-found.tsx';
import { findCulture } from '../cultures/queries.ts';
import { type Answer, page, part, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { noteRead } from '../plumbing/reads.ts';
import { findCultures, findCustomers, findInvoices, findOrders, findSpecies } from './queries.ts';

const longestSearch = 100;
/** Of each kind; whoever needs more of them filters the list of that kind. */
const mostOfKind = 12;

/** What is found of each kind, in one page; a whole code leads straight to its culture. */
export function showFound(call: StaffCall): Answer {
  const { db, query, who, furniture, wantsPart } = call;
  const typed = String([query.q].flat().at(-1) ?? '')
    .slice(0, longestSearch)
    .trim();
  const exact = typed !== '' && !wantsPart ? findCulture(db, typed) : undefined;
  if (exact) return redirect(cultureHref(exact.code));
  const isOwner = who.role === 'owner';
  // One more than is shown tells that there are more.
  const limit = mostOfKind + 1;
  const found = {
    typed,
    mostOfKind,
    isOwner,
    locale: furniture.locale,
    cultures: findCultures(db, typed, limit),
    species: isOwner ? findSpecies(db, typed, limit) : [],
    orders: findOrders(db, typed, limit),
    invoices: isOwner ? findInvoices(db, typed, limit) : [],
    customers: isOwner ? findCustomers(db, typed, limit) : [],
  };
  if (found.orders.length + found.invoices.length + found.customers.length > 0)
    noteRead(call, 'search', 'page');
  return wantsPart ? part(h(Found, found)) : page(h(SearchPage, { furniture, ...found }));
}
