import { dueOn, numberWords } from '../../shared/invoices/settlement.ts';
import {
  type Amounts,
  type LineKind,
  lineKinds,
  type Rate,
  shareByKind,
  type TaxLine,
  takenBack,
} from '../../shared/invoices/tax.ts';
import { speakerFor } from '../../views/words/speaker.ts';
import type { LoadedOrder } from '../orders/queries.ts';
import { languageOf } from '../orders/queries-reader.ts';
import { note } from '../plumbing/audit.ts';
import type { Business } from '../plumbing/call.ts';
import { conflict } from '../plumbing/errors.ts';
import type { Db } from '../plumbing/open-database.ts';
import {
  buyerOf,
  creditsOf,
  type Invoice,
  insertInvoice,
  invoicesOfOrder,
  linesOfInvoice,
  nextPlace,
  standingInvoice,
  taxesOfInvoice,
} from './queries.ts';
import { buyerFor, draftOf } from './queries-draft.ts';
import { readInvoicing } from './queries-invoicing.ts';

export type Writing = { business: Business; today: string; personId: string; now: number };

const sellerOf = (business: Business, taxNumber: string) => ({
  sellerName: business.name,
  sellerAddress: business.address,
  sellerEmail: business.email,
  sellerTaxNumber: taxNumber,
});

function keepNote(
  tx: Db,
  { id, number, totalMinor }: Pick<Invoice, 'id' | 'number' | 'totalMinor'>,
  by: Writing,
) {
  const subject = `invoice ${id}`;
  note(tx, { at: by.now, personId: by.personId, action: 'wrote', subject, after: { number, totalMinor } });
}

/** What an invoice keeps of a tax. */
const taxColumns = (tax: TaxLine<Rate & { name: string }>) => {
  const { name, rateThousandths, mode, onGoods, onCarriage, baseMinor, taxMinor } = tax;
  return { name, rateThousandths, mode, onGoods, onCarriage, baseMinor, taxMinor };
};

/** Writes the invoice of an order, with the next number, in the transaction it is called in. */
export function writeInvoice(tx: Db, loaded: LoadedOrder, suppliedOn: string, by: Writing): number {
  const { order, customer } = loaded;
  if (order.state === 'draft' || order.state === 'cancelled')
    throw conflict(
      `Order ${order.number} is ${order.state}. An invoice is written once an order is confirmed.`,
    );
  const standing = standingInvoice(invoicesOfOrder(tx, order.id));
  if (standing)
    throw conflict(`Order ${order.number} has invoice ${standing.number} already. Look at the order again.`);
  const draft = draftOf(tx, loaded, { business: by.business, suppliedOn });
  if (draft.lines.length === 0) throw conflict(`Order ${order.number} has no lines.`);
  const settings = readInvoicing(tx);
  const id = nextPlace(tx);
  const invoice = {
    id,
    number: numberWords(settings.prefix, id),
    kind: 'invoice' as const,
    orderId: order.id,
    creditsId: null,
    amendsId: null,
    currency: order.currency,
    issuedOn: by.today,
    suppliedOn,
    dueOn: dueOn(by.today, settings.termDays),
    language: languageOf(loaded),
    locale: draft.speaker.locale,
    paper: customer.paper,
    ...sellerOf(by.business, settings.taxNumber),
    payWords: settings.payWords,
    exemptWords: draft.exemptWords,
    reason: '',
    netMinor: draft.netMinor,
    taxMinor: draft.taxMinor,
    totalMinor: draft.totalMinor,
    madeBy: by.personId,
    madeAt: by.now,
  };
  insertInvoice(tx, invoice, {
    lines: draft.lines,
    taxes: draft.taxes.map(taxColumns),
    buyer: buyerFor(loaded, draft.speaker),
  });
  keepNote(tx, invoice, by);
  return id;
}

/** What may still be given back of an invoice, by kind of line, taxes and all. */
export function leftByKind(db: Db, invoice: Invoice): Amounts {
  const sum = (id: number, kind: LineKind) =>
    linesOfInvoice(db, id)
      .filter((line) => line.kind === kind)
      .reduce((total, line) => total + line.totalMinor, 0);
  const amounts = { goods: sum(invoice.id, 'goods'), carriage: sum(invoice.id, 'carriage') };
  const left = shareByKind(amounts, taxesOfInvoice(db, invoice.id));
  for (const credit of creditsOf(db, invoice.id)) {
    const isWhole = credit.totalMinor === -invoice.totalMinor;
    for (const kind of lineKinds) left[kind] = isWhole ? 0 : left[kind] + sum(credit.id, kind);
  }
  return left;
}

const negative = (minor: number) => (minor === 0 ? 0 : -minor);

/** All of an invoice once more, below zero. */
function mirrored(tx: Db, invoice: Invoice) {
  return {
    lines: linesOfInvoice(tx, invoice.id).map(({ invoiceId: _id, position: _at, ...line }) => ({
      ...line,
      priceMinor: negative(line.priceMinor),
      totalMinor: negative(line.totalMinor),
    })),
    taxes: taxesOfInvoice(tx, invoice.id).map(({ invoiceId: _id, position: _at, ...tax }) => ({
      ...tax,
      baseMinor: negative(tax.baseMinor),
      taxMinor: negative(tax.taxMinor),
    })),
    netMinor: negative(invoice.netMinor),
    taxMinor: negative(invoice.taxMinor),
    totalMinor: negative(invoice.totalMinor),
  };
}

/** Amounts that are given back, with the taxes that they hold. */
function partly(tx: Db, invoice: Invoice, amounts: Amounts) {
  const speaker = speakerFor(invoice);
  const words = { goods: 'invoice.backOfGoods', carriage: 'invoice.backOfCarriage' } as const;
  const back = takenBack(amounts, taxesOfInvoice(tx, invoice.id));
  return {
    lines: lineKinds
      .filter((kind) => amounts[kind] > 0)
      .map((kind) => ({
        kind,
        words: speaker.say(words[kind]),
        scientificName: '',
        detail: '',
        quantity: 1,
        priceMinor: negative(amounts[kind]),
        totalMinor: negative(amounts[kind]),
      })),
    taxes: back.taxes.map((tax) => ({
      ...taxColumns(tax),
      baseMinor: negative(tax.baseMinor),
      taxMinor: negative(tax.taxMinor),
    })),
    netMinor: negative(back.netMinor),
    taxMinor: negative(back.taxMinor),
    totalMinor: negative(back.totalMinor),
  };
}

export type Credit = { extent: 'whole' } | { extent: 'part'; amounts: Amounts };

/** Writes a credit note for an invoice, with the next number; what it may give back was looked at before. */
export function writeCredit(
  tx: Db,
  loaded: LoadedOrder,
  invoice: Invoice,
  { credit, reason, amendsId }: { credit: Credit; reason: string; amendsId: number | null },
  by: Writing,
): number {
  const { lines, taxes, ...sums } =
    credit.extent === 'whole' ? mirrored(tx, invoice) : partly(tx, invoice, credit.amounts);
  const settings = readInvoicing(tx);
  const id = nextPlace(tx);
  const row = {
    ...invoice,
    ...sums,
    ...sellerOf(by.business, settings.taxNumber),
    id,
    number: numberWords(settings.prefix, id),
    kind: 'credit' as const,
    creditsId: invoice.id,
    amendsId,
    issuedOn: by.today,
    dueOn: null,
    payWords: '',
    reason,
    madeBy: by.personId,
    madeAt: by.now,
  };
  // As on the invoice itself, also where the customer was erased meanwhile.
  const { invoiceId: _of, ...buyer } = buyerOf(tx, invoice.id) ?? {
    invoiceId: 0,
    ...buyerFor(loaded, speakerFor(invoice)),
  };
  insertInvoice(tx, row, { lines, taxes, buyer });
  keepNote(tx, row, by);
  return id;
}
