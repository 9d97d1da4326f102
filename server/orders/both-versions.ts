import { languageNames } from '../../shared/settings/languages.ts';
import type { FormState } from '../../views/layout/form-state.ts';
import { formatDay, formatMoney } from '../../views/layout/format.ts';
import type { toldApart } from '../../views/orders/page-order-form.tsx';
import type { StaffCall } from '../plumbing/call.ts';
import { tooLate } from '../plumbing/edits.ts';
import { type Customer, type LoadedOrder, linesOf, speciesToOrder } from './queries.ts';
import type { OrderForm } from './read-form.ts';
import { subjectOf } from './save.ts';

const unrelated = ', unrelated starts';

/** By the names under which the form's page tells both versions apart: lines mean something only as a whole. */
type InWords = Record<keyof typeof toldApart, string>;

function storedInWords(call: StaffCall, { order, customer }: LoadedOrder): InWords {
  const { locale } = call.business;
  const money = (minor: number) => formatMoney(minor, order.currency, locale);
  return {
    toldCustomer: customer.name,
    toldLines: linesOf(call.db, order.id)
      .map((line) => {
        const words = `${line.groups} × ${line.scientificName} at ${money(line.priceMinor)}`;
        return `${words}${line.separateLines ? unrelated : ''}`;
      })
      .join('; '),
    toldDispatch: order.dispatchOn ? formatDay(order.dispatchOn, locale) : '',
    toldPostage: money(order.postageMinor),
    toldLanguage: order.language ? languageNames[order.language] : '',
    toldNote: order.note,
  };
}

function typedInWords(
  call: StaffCall,
  { order }: LoadedOrder,
  { head, lines }: OrderForm,
  customer: Customer,
): InWords {
  const { locale } = call.business;
  const money = (minor: number) => formatMoney(minor, order.currency, locale);
  const species = new Map(
    speciesToOrder(
      call.db,
      lines.map((line) => line.species),
    ).map((one) => [one.id, one]),
  );
  return {
    toldCustomer: customer.name,
    toldLines: lines
      .map((line) => {
        const known = species.get(line.species);
        const price = line.price ?? known?.priceMinor;
        const words = `${line.groups} × ${known?.scientificName ?? '?'} at ${price === undefined ? '?' : money(price)}`;
        return `${words}${line.separateLines ? unrelated : ''}`;
      })
      .join('; '),
    toldDispatch: head.dispatchOn ? formatDay(head.dispatchOn, locale) : '',
    toldPostage: money(head.postage ?? 0),
    toldLanguage: head.language ? languageNames[head.language] : '',
    toldNote: head.note,
  };
}

/** What was typed beside what is stored now, for two people who edited the same order. */
export function overtakenForm(
  call: StaffCall,
  stored: LoadedOrder,
  data: OrderForm,
  customer: Customer,
): FormState {
  const { number, version } = stored.order;
  const late = tooLate(call, storedInWords(call, stored), { subject: subjectOf(number) }, String(version));
  return { ...late, values: { ...late.values, ...typedInWords(call, stored, data, customer) } };
}
