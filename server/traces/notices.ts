import { h } from 'preact';
import { toldForm } from '../../shared/traces/form.ts';
import { formatCount } from '../../views/layout/format.ts';
import { draftNotice, toldBegin } from '../../views/traces/draft.ts';
import { type NoticeDraft, NoticesPage } from '../../views/traces/page-notices.tsx';
import { dayWriter, traceHref, wayWords } from '../../views/traces/say.ts';
import { type LoadedCulture, loadCulture } from '../cultures/queries.ts';
import { addHistory, historyOf } from '../orders/queries.ts';
import { type Answer, page, redirect, wrongForm } from '../plumbing/answers.ts';
import type { FormState, StaffCall } from '../plumbing/call.ts';
import { conflict, Refusal } from '../plumbing/errors.ts';
import { readForm } from '../plumbing/forms.ts';
import { noteRead } from '../plumbing/reads.ts';
import { type Asked, readAsked } from './ask.ts';
import { look, type TracedOrder } from './look.ts';

/** A trace that can be shown; else the trace's own page says what is wrong. */
function loadTraced(call: StaffCall, fields: unknown) {
  const loaded = loadCulture(call.db, call.params.code ?? '');
  const { asked, errors } = readAsked(call, loaded.culture, fields);
  const [wrong] = Object.values(errors);
  const looked = wrong === undefined ? look(call.db, loaded.culture, asked) : { fault: wrong };
  if ('fault' in looked) throw new Refusal(422, 'Nothing is traced', looked.fault);
  return { loaded, asked, orders: looked.orders };
}

function draftOf(call: StaffCall, loaded: LoadedCulture, asked: Asked, one: TracedOrder): NoticeDraft {
  const { order, harvests, contacts, path } = one;
  const { code } = loaded.culture;
  const { today, business } = call;
  const { locale } = business;
  const begin = toldBegin(code, asked.what);
  const told = historyOf(call.db, order.id).findLast(({ note }) => note.startsWith(begin));
  const day = dayWriter(today, locale);
  const text = draftNotice({
    what: asked.what,
    seenOn: asked.seen,
    order: order.number,
    customerName: order.customer.name,
    isHere: order.state === 'packed',
    isDirect: path.length === 2,
    harvests,
    business,
    locale,
  });
  return {
    number: order.number,
    state: order.state,
    customer: order.customer,
    animals: harvests
      .map(
        (h) => `${formatCount(h.animals, 'animal')} of ${h.scientificName} from ${h.code} on ${day(h.onDay)}`,
      )
      .join('; '),
    way: wayWords(contacts, day),
    told: told ? { at: told.at, by: told.by } : null,
    form: { values: { text }, errors: {}, id: `order-${order.number}` },
  };
}

type Traced = ReturnType<typeof loadTraced>;

function noticesPage(
  call: StaffCall,
  { loaded, asked, orders }: Traced,
  back?: { number: number; form: FormState },
) {
  if (orders.length > 0) noteRead(call, `orders from ${loaded.culture.code}`, 'page');
  const drafts = orders.map((order) => draftOf(call, loaded, asked, order));
  return h(NoticesPage, {
    furniture: call.furniture,
    code: loaded.culture.code,
    asked,
    drafts: drafts.map((draft) =>
      draft.number === back?.number ? { ...draft, form: { ...back.form, id: draft.form.id ?? '' } } : draft,
    ),
    timeZone: call.business.timeZone,
  });
}

export function showNotices(call: StaffCall): Answer {
  return page(noticesPage(call, loadTraced(call, call.query)));
}

/** The owner has told a customer: the words are kept in the order's history. */
export function markTold(call: StaffCall): Answer {
  const traced = loadTraced(call, call.body);
  const { asked, orders } = traced;
  const { code } = traced.loaded.culture;
  const read = readForm(toldForm, call.body);
  const number = Number(call.body.order);
  const found = orders.find(({ order }) => order.number === number);
  if (!found) throw conflict('This order is not among those of the trace any more. Look at the trace again.');
  if (!read.ok) return wrongForm(noticesPage(call, traced, { number, form: read.form }));
  const by = { personId: call.who.id, now: call.clock.now(), today: call.today };
  call.once((tx) => {
    addHistory(
      tx,
      found.order.id,
      found.order.state,
      `${toldBegin(code, asked.what)}\n${read.data.text}`,
      by,
    );
    return true;
  });
  const { what, since, seen, back, sort } = asked;
  return redirect(
    traceHref(code, { what, since, seen, back, sort }, '/notices'),
    `Order ${number}: written down as told. The words stand in its history.`,
  );
}
