import { lineTotal } from '../../shared/orders/money.ts';
import { hadLink } from '../arrivals/queries-links.ts';
import { readCustomer } from '../customers/queries.ts';
import { addressWith } from '../plumbing/address.ts';
import { changesBetween, note } from '../plumbing/audit.ts';
import type { FormBody } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import { addHistory, type By, changeOrder, insertOrder, linesOf, loadOrder, type Order } from './queries.ts';
import type { OrderForm } from './read-form.ts';
import { addLines, changeLines, type Errors } from './write-lines.ts';

/** Nothing was saved; what is wrong, by field. Thrown, so that the transaction is undone. */
export class NotSaved extends Error {
  constructor(readonly errors: Errors) {
    super('not saved');
  }
}

export const subjectOf = (number: number) => `order ${number}`;

function check(errors: Errors) {
  if (Object.keys(errors).length > 0) throw new NotSaved(errors);
}

/** A customer who may be given this order. */
function checkHead(tx: Db, { head }: OrderForm, before: Order | null, today: string) {
  const customer = readCustomer(tx, head.customer);
  if (!customer) check({ customer: 'Choose a customer from the list.' });
  else if (customer.retiredAt !== null && before?.customerId !== customer.id)
    check({ customer: `${customer.name} is put away. Choose another customer, or take them out again.` });
  // Its address was given to them, and letters about it hold their name: neither may become somebody else's.
  if (before && customer && before.customerId !== customer.id && hadLink(tx, before.id))
    check({
      customer:
        'This order was confirmed to its customer before, who can open its page. It stays theirs: cancel it, and write a new one.',
    });
  const day = head.dispatchOn ?? null;
  if (day !== null && day < today && day !== before?.dispatchOn)
    check({ dispatchOn: 'This day is over. Write today or a later day.' });
}

const headColumns = ({ head }: OrderForm) => ({
  customerId: head.customer,
  dispatchOn: head.dispatchOn ?? null,
  postageMinor: head.postage ?? 0,
  language: head.language ?? null,
  note: head.note,
});

/** Lines as the record of changes keeps them. */
const linesInRecord = (tx: Db, orderId: number) =>
  linesOf(tx, orderId)
    .map((line) => {
      const words = `${line.groups} x ${line.scientificName} at ${line.priceMinor} = ${lineTotal(line)}`;
      return line.separateLines ? `${words}, unrelated starts` : words;
    })
    .join('; ');

/** Writes a new draft down and returns its number. */
export function addOrder(tx: Db, form: OrderForm, currency: string, by: By): number {
  checkHead(tx, form, null, by.today);
  const order = insertOrder(tx, {
    ...headColumns(form),
    currency,
    state: 'draft',
    version: 1,
    madeBy: by.personId,
    madeAt: by.now,
  });
  check(addLines(tx, order.id, form.lines));
  addHistory(tx, order.id, 'draft', 'Written down.', by);
  note(tx, {
    at: by.now,
    personId: by.personId,
    action: 'added',
    subject: subjectOf(order.number),
    after: { ...headColumns(form), lines: linesInRecord(tx, order.id) },
  });
  return order.number;
}

const changedWords: Record<string, string> = {
  customerId: 'customer',
  dispatchOn: 'dispatch day',
  postageMinor: 'postage',
  language: 'language',
  note: 'note',
  lines: 'lines',
};

/** Changes a draft. False when somebody else changed it since the form was opened; then nothing is written. */
export function saveOrder(tx: Db, number: number, form: OrderForm, body: FormBody, by: By): boolean {
  const { order } = loadOrder(tx, number);
  if (order.state !== 'draft')
    throw conflict(
      `Order ${number} is ${order.state} now and only a draft can be changed, so nothing was saved. Look at it again.`,
    );
  if (form.head.version !== order.version) return false;
  checkHead(tx, form, order, by.today);
  const { customerId, dispatchOn, postageMinor, language, note: words } = order;
  const before = {
    customerId,
    dispatchOn,
    postageMinor,
    language,
    note: words,
    lines: linesInRecord(tx, order.id),
  };
  check(changeLines(tx, order.id, form.lines, body));
  changeOrder(tx, order.id, headColumns(form));
  const after = { ...headColumns(form), lines: linesInRecord(tx, order.id) };
  const changes = changesBetween<Record<string, unknown>>(before, after);
  const what = Object.keys(changes.after).map((name) => changedWords[name] ?? name);
  addHistory(
    tx,
    order.id,
    'draft',
    what.length > 0 ? `Changed: ${what.join(', ')}.` : 'Saved unchanged.',
    by,
  );
  note(tx, { at: by.now, personId: by.personId, action: 'changed', subject: subjectOf(number), ...changes });
  return true;
}

/** Where an order is shown after it was saved; a culture that it began with is kept in view. */
export const orderAddress = (number: number, culture?: string | null) =>
  addressWith(`/orders/${number}`, { culture });
