import { h } from 'preact';
import type { FormState } from '../../views/layout/form-state.ts';
import { PlacesPage } from '../../views/places/page-places.tsx';
import { type PlaceRow, PlacesTree } from '../../views/places/part-tree.tsx';
import type { Answer, Notice } from '../plumbing/answers.ts';
import { page, part, redirect } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { listPlaces } from './queries.ts';

/** '001.003.002' stands in '001.003' and in '001'. */
function ordersAbove(shelfOrder: string): string[] {
  const steps = shelfOrder.split('.');
  return steps.map((_, i) => steps.slice(0, i + 1).join('.'));
}

/** Each place with the cultures on it and on all that stands in it, and whether it has somebody before and after it. */
export function placeRows(db: Db): PlaceRow[] {
  const all = listPlaces(db);
  const counts = new Map<string, number>();
  const ends = new Map<number | null, { first: number; last: number }>();
  for (const { place, cultures } of all) {
    for (const order of ordersAbove(place.shelfOrder)) counts.set(order, (counts.get(order) ?? 0) + cultures);
    if (place.retiredAt !== null) continue;
    ends.set(place.parentId, { first: ends.get(place.parentId)?.first ?? place.id, last: place.id });
  }
  return all.map(({ place }) => ({
    id: place.id,
    kind: place.kind,
    name: place.name,
    fullName: place.fullName,
    depth: ordersAbove(place.shelfOrder).length - 1,
    cultures: counts.get(place.shelfOrder) ?? 0,
    retired: place.retiredAt !== null,
    first: ends.get(place.parentId)?.first === place.id,
    last: ends.get(place.parentId)?.last === place.id,
  }));
}

const emptyForm = { values: { kind: 'room' }, errors: {} };

export function placesPage(call: StaffCall, form: FormState = emptyForm) {
  return h(PlacesPage, {
    furniture: call.furniture,
    rows: placeRows(call.db),
    form,
    mayEdit: call.who.role === 'owner',
  });
}

export function showPlaces(call: StaffCall): Answer {
  const { in: within } = call.query;
  const rows = placeRows(call.db);
  const parent = rows.find((row) => String(row.id) === within);
  const next = { room: 'rack', rack: 'shelf', shelf: 'position', position: 'position' } as const;
  const form = parent
    ? { values: { kind: next[parent.kind], parentId: String(parent.id) }, errors: {} }
    : emptyForm;
  return page(placesPage(call, form));
}

/** The tree after a change: only the tree for htmx, the page again otherwise. */
export function treeAnswer(call: StaffCall, notice: Notice): Answer {
  if (!call.wantsPart) return redirect('/places', notice);
  return part(h(PlacesTree, { furniture: call.furniture, rows: placeRows(call.db), mayEdit: true }), {
    notice,
  });
}
