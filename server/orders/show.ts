import { h } from 'preact';
import { addressLines } from '../../shared/customers/address.ts';
import { groupsField } from '../../shared/orders/form.ts';
import { picksOf } from '../../shared/orders/picks.ts';
import { languageNames } from '../../shared/settings/languages.ts';
import { paperWords, unitWords } from '../../views/customers/customer-fields.tsx';
import { emptyForm, type FormState } from '../../views/layout/form-state.ts';
import type { Candidate } from '../../views/orders/candidates.tsx';
import { OrderPage, type OrderPageProps } from '../../views/orders/page-order.tsx';
import { HelperOrderPage } from '../../views/orders/page-order-helper.tsx';
import type { Pick } from '../../views/orders/page-pack.tsx';
import type { LineToFill } from '../../views/orders/reserve-form.tsx';
import { arrivalOfOrder } from '../arrivals/queries-order-part.ts';
import { moneyPartOf } from '../invoices/queries-order-part.ts';
import { mailsOfOrder } from '../mails/queries.ts';
import { movementBeforeLeaving } from '../movement/queries.ts';
import { numberIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { fillingLine, whyApartIn } from './apart.ts';
import { candidate, isAble, whyNotBeside } from './candidates.ts';
import { whyNotToPack } from './pack.ts';
import { historyOf, type LoadedOrder, linesOf, loadOrder, type OrderLine } from './queries.ts';
import { allocationsOf, type CurrentAllocation, groupsByLine } from './queries-allocations.ts';
import { languageOf } from './queries-reader.ts';
import { type StockRow, stockByCode, stockOfSpecies } from './queries-stock.ts';

/** Trouble that was seen in a culture since its animals were promised. */
function cautionOf(one: CurrentAllocation): string | null {
  const words: Partial<Record<string, string>> = {
    mites: 'Mites were seen in it. Look closely before anything leaves it.',
    mould: 'Mould was seen in it. Take only animals that look well.',
    'die-off': 'Animals died in it lately. Count before you take any.',
  };
  return one.state === 'reserved' ? (words[one.health ?? ''] ?? null) : null;
}

const blockedOf = (one: CurrentAllocation) => (one.state === 'reserved' ? whyNotToPack(one) : null);

/** What is to be fetched, as the pages for packing show it. */
export function picksToShow(allocations: readonly CurrentAllocation[], lines: readonly OrderLine[]): Pick[] {
  return picksOf(allocations, lines).map((one) => ({
    key: one.key,
    code: one.code,
    place: one.place,
    line: one.line,
    scientificName: one.makeUp.scientificName,
    commonName: one.makeUp.commonName,
    groups: one.groups,
    animals: one.animals,
    groupAdults: one.makeUp.groupAdults,
    groupJuveniles: one.makeUp.groupJuveniles,
    groupExtras: one.makeUp.groupExtras,
    separateLines: one.makeUp.separateLines,
    blocked: blockedOf(one),
    caution: cautionOf(one),
  }));
}

const mostAble = 12;
const mostUnable = 24;

/** The cultures that a line's missing groups could come from. */
function toFill(
  call: StaffCall,
  line: OrderLine,
  { allocations, has, chosen }: { allocations: CurrentAllocation[]; has: number; chosen: string | null },
): LineToFill {
  const beside = fillingLine(call.db, allocations, line.id);
  const apart = whyApartIn(call.db, line.speciesId);
  const asked = { today: call.today, chosen, why: (row: StockRow) => whyNotBeside(line, row, beside, apart) };
  const found = stockOfSpecies(call.db, line.speciesId, 400);
  const rows = found.map((row) => candidate(line, row, asked));
  const able = rows.filter(isAble).sort((a, b) => b.spareGroups - a.spareGroups);
  const unable = rows.filter((row) => !isAble(row));
  const first = (list: Candidate[], most: number) => [
    ...list.filter((row) => row.chosen),
    ...list.filter((row) => !row.chosen).slice(0, most),
  ];
  const shown = { able: first(able, mostAble), unable: first(unable, mostUnable) };
  return {
    line: { ...line, has },
    ...shown,
    notShown: rows.length - shown.able.length - shown.unable.length,
  };
}

/** As many groups as are missing and can be spared, entered beforehand for the culture somebody came from. */
function enteredBeforehand(fills: readonly LineToFill[]): FormState['values'] {
  for (const fill of fills) {
    const from = [...fill.able, ...fill.unable].find((row) => row.chosen);
    if (!from) continue;
    const groups = Math.min(fill.line.groups - fill.line.has, from.spareGroups);
    return groups > 0 && from.apart === null ? { [groupsField(fill.line.id, from.id)]: groups } : {};
  }
  return {};
}

/** Whether a mail could go out at all: there is a mail server. */
export const mayTell = (call: StaffCall) => call.config.mail !== null;

type CameBack = { reserve?: FormState; sent?: FormState; cancel?: FormState; culture?: string | null };

/** The owner's page of an order; forms that came back wrong keep what was typed in them. */
export function ownerPage(call: StaffCall, loaded: LoadedOrder, back: CameBack = {}) {
  const { order, customer } = loaded;
  const lines = linesOf(call.db, order.id);
  const allocations = allocationsOf(call.db, order.id);
  const has = groupsByLine(allocations);
  const code = back.culture ?? call.query.culture ?? null;
  const culture = code ? (stockByCode(call.db, code) ?? null) : null;
  const missing = lines.filter((line) => line.groups > (has.get(line.id) ?? 0));
  const fills =
    order.state === 'draft'
      ? missing.map((line) => {
          const chosen = culture?.code ?? null;
          return toFill(call, line, { allocations, has: has.get(line.id) ?? 0, chosen });
        })
      : [];
  const speciesOf = new Map(lines.map((line) => [line.id, line]));
  const props: OrderPageProps = {
    furniture: call.furniture,
    order,
    customer: {
      id: customer.id,
      name: customer.name,
      addressLines: addressLines(customer),
      papers: `${languageNames[languageOf(loaded)]}, ${unitWords[customer.units]}, on ${paperWords[customer.paper]}`,
    },
    lines: lines.map((line) => ({ ...line, has: has.get(line.id) ?? 0 })),
    reserved: allocations.map((one) => ({
      ...one,
      scientificName: speciesOf.get(one.lineId)?.scientificName ?? '',
      commonName: speciesOf.get(one.lineId)?.commonName ?? '',
      blocked: blockedOf(one),
      caution: cautionOf(one),
    })),
    toFill: fills,
    reserveForm: back.reserve ?? { values: enteredBeforehand(fills), errors: {} },
    stepForms: {
      sent: back.sent ?? { values: { sentOn: call.today, tell: 'yes' }, errors: {}, id: 'sent' },
      cancel: back.cancel ?? { ...emptyForm, id: 'cancel' },
    },
    arrival: {
      ...arrivalOfOrder(call.db, order, { base: ownAddress(call.config), now: call.clock.now() }),
      furniture: call.furniture,
      timeZone: call.business.timeZone,
    },
    money: {
      ...moneyPartOf(call.db, loaded, { business: call.business, today: call.today }),
      furniture: call.furniture,
    },
    movement: movementBeforeLeaving(call.db, order, call.today),
    mails: mailsOfOrder(call.db, order.id),
    mayTell: mayTell(call) && customer.email !== '',
    history: historyOf(call.db, order.id),
    timeZone: call.business.timeZone,
    today: call.today,
    culture: culture && missingSpecies(culture, missing, lines),
  };
  return h(OrderPage, props);
}

/** A culture whose species no line still asks for. */
function missingSpecies(culture: StockRow, missing: readonly OrderLine[], lines: readonly OrderLine[]) {
  if (missing.some((line) => line.speciesId === culture.speciesId)) return null;
  const known = lines.find((line) => line.speciesId === culture.speciesId)?.scientificName;
  return { code: culture.code, scientificName: known ?? culture.scientificName };
}

export function showOrder(call: StaffCall): Answer {
  const loaded = loadOrder(call.db, numberIn(call, 'number', 'order'));
  if (call.who.role === 'owner') return page(ownerPage(call, loaded));
  const { order, customer } = loaded;
  return page(
    h(HelperOrderPage, {
      furniture: call.furniture,
      order: {
        number: order.number,
        state: order.state,
        dispatchOn: order.dispatchOn,
        note: order.note,
        customerName: customer.name,
      },
      picks: picksToShow(allocationsOf(call.db, order.id), linesOf(call.db, order.id)),
      movement: movementBeforeLeaving(call.db, order, call.today),
      history: historyOf(call.db, order.id),
      timeZone: call.business.timeZone,
    }),
  );
}
