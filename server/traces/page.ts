import { h } from 'preact';
import { TracePage } from '../../views/traces/page-trace.tsx';
import type { PictureNode } from '../../views/traces/picture-plan.ts';
import { type LoadedCulture, loadCulture } from '../cultures/queries.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { noteRead } from '../plumbing/reads.ts';
import { type Asked, readAsked } from './ask.ts';
import { type Looked, look, type TracedOrder } from './look.ts';
import { openReservations } from './queries.ts';
import { writtenContacts } from './queries-contacts.ts';

/** Cultures and orders in the order of the trace: the first day first, then the fewest contacts. */
function pictureOf({ downstream, orders }: Looked): PictureNode[] {
  const nodes = [
    ...downstream.map(({ code, way }) => ({ name: code, isOrder: false, way })),
    ...orders.map(({ code, contacts }) => ({ name: code, isOrder: true, way: contacts })),
  ];
  const dayOf = (node: PictureNode) => node.way.at(-1)!.date;
  return nodes.sort((a, b) =>
    dayOf(a) === dayOf(b) ? a.way.length - b.way.length : dayOf(a) < dayOf(b) ? -1 : 1,
  );
}

function orderRow({ order, contacts, harvests }: TracedOrder, isOwner: boolean) {
  const { number, state, customer } = order;
  return { number, state, customerName: isOwner ? customer.name : null, way: contacts, harvests };
}

/** More rows than these are no list for a person; the rest is told as a number. */
const mostListed = 600;
const mostWritten = 20;

type CameBack = {
  quarantine?: { form: FormState; chosen: ReadonlySet<number> };
  contact?: FormState;
};

/** All that can have been reached and is not in quarantine yet is ticked beforehand. */
const tickedBeforehand = ({ own, downstream }: Looked) =>
  new Set([own, ...downstream].filter(({ status }) => status === 'active').map(({ id }) => id));

/** The trace's page; a form that came back keeps what was typed and ticked. */
export function tracePage(
  call: StaffCall,
  loaded: LoadedCulture,
  { asked, errors }: { asked: Asked; errors: Record<string, string> },
  back: CameBack = {},
) {
  const { culture, species, place } = loaded;
  const isOwner = call.who.role === 'owner';
  const { what, since, seen } = asked;
  const looked = Object.keys(errors).length === 0 ? look(call.db, culture, asked) : null;
  const found = looked && 'own' in looked ? looked : null;
  const reserved = found
    ? openReservations(
        call.db,
        [found.own, ...found.downstream].map(({ id }) => id),
      )
    : [];
  if (isOwner && (found?.orders.length || reserved.length > 0))
    noteRead(call, `orders from ${culture.code}`, 'page');
  return h(TracePage, {
    furniture: call.furniture,
    code: culture.code,
    scientificName: species.scientificName,
    place: place?.fullName ?? null,
    asked,
    noted: asked.noted,
    filter: { values: { what, since, seen, back: asked.back }, errors },
    found: found && {
      ...found,
      downstream: found.downstream.slice(0, mostListed),
      upstream: found.upstream.slice(0, mostListed),
      reached: found.downstream.length,
      sources: found.upstream.length,
      own: { ...found.own, onDay: asked.since, way: [] },
      orders: found.orders.map((order) => orderRow(order, isOwner)),
      picture: pictureOf(found),
    },
    fault: looked && 'fault' in looked ? looked.fault : null,
    quarantine:
      isOwner && found
        ? {
            form: back.quarantine?.form ?? { values: { rest: 'yes' }, errors: {} },
            chosen: back.quarantine?.chosen ?? tickedBeforehand(found),
            reservations: reserved,
          }
        : null,
    contacts: {
      written: writtenContacts(call.db, culture.id, mostWritten),
      form: { ...(back.contact ?? { values: { onDay: call.today }, errors: {} }), id: 'contact' },
    },
    today: call.today,
  });
}

export function showTrace(call: StaffCall): Answer {
  const loaded = loadCulture(call.db, call.params.code ?? '');
  const asked = readAsked(call, loaded.culture);
  const isWrong = Object.keys(asked.errors).length > 0;
  return page(tracePage(call, loaded, asked), isWrong ? 422 : 200);
}
