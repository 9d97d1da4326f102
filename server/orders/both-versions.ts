import { languageNames } from '../../shared/settings/languages.ts';
import type { BothVersionsProps, Difference } from '../../views/layout/both-versions.tsx';
import { formatDay, formatMoment, formatMoney } from '../../views/layout/format.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { type Customer, type LoadedOrder, lastStep, linesOf, speciesToOrder } from './queries.ts';
import type { OrderForm } from './read-form.ts';

const unrelated = ', unrelated starts';

type InWords = Record<string, string>;

function storedInWords(call: StaffCall, { order, customer }: LoadedOrder): InWords {
  const { locale } = call.business;
  const money = (minor: number) => formatMoney(minor, order.currency, locale);
  return {
    Customer: customer.name,
    Lines: linesOf(call.db, order.id)
      .map((line) => {
        const words = `${line.groups} × ${line.scientificName} at ${money(line.priceMinor)}`;
        return `${words}${line.separateLines ? unrelated : ''}`;
      })
      .join('; '),
    'Dispatch day': order.dispatchOn ? formatDay(order.dispatchOn, locale) : '',
    Postage: money(order.postageMinor),
    Language: order.language ? languageNames[order.language] : '',
    Note: order.note,
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
    Customer: customer.name,
    Lines: lines
      .map((line) => {
        const known = species.get(line.species);
        const price = line.price ?? known?.priceMinor;
        const words = `${line.groups} × ${known?.scientificName ?? '?'} at ${price === undefined ? '?' : money(price)}`;
        return `${words}${line.separateLines ? unrelated : ''}`;
      })
      .join('; '),
    'Dispatch day': head.dispatchOn ? formatDay(head.dispatchOn, locale) : '',
    Postage: money(head.postage ?? 0),
    Language: head.language ? languageNames[head.language] : '',
    Note: head.note,
  };
}

/** What is stored now beside what was typed, for two people who edited the same order. */
export function conflictOf(
  call: StaffCall,
  stored: LoadedOrder,
  data: OrderForm,
  customer: Customer,
): BothVersionsProps {
  const before = storedInWords(call, stored);
  const after = typedInWords(call, stored, data, customer);
  const differences: Difference[] = Object.keys(before)
    .filter((field) => before[field] !== after[field])
    .map((field) => ({ field, stored: before[field], yours: after[field] }));
  const step = lastStep(call.db, stored.order.id);
  const when = step ? formatMoment(step.at, call.business.timeZone, call.business.locale) : null;
  return { savedBy: step?.by ?? null, savedWhen: when ? `on ${when}` : 'meanwhile', differences };
}
