/** What an invoice or a credit note printed, as it was kept. Amounts in minor units; below zero on a credit note. */
export interface InvoiceDoc {
  number: string;
  kind: 'invoice' | 'credit';
  orderNumber: number;
  currency: string;
  /** `YYYY-MM-DD` */
  issuedOn: string;
  suppliedOn: string;
  dueOn: string | null;
  seller: { name: string; address: string; email: string; taxNumber: string };
  payWords: string;
  /** Why no tax is charged; empty where it is. */
  exemptWords: string;
  /** Of a credit note. */
  reason: string;
  /** Null once the person was erased and the years of keeping are over. */
  buyer: { name: string; address: string; country: string } | null;
  /** The invoice that a credit note takes back. */
  credits: { number: string; issuedOn: string } | null;
  lines: InvoiceDocLine[];
  taxes: InvoiceDocTax[];
  netMinor: number;
  taxMinor: number;
  totalMinor: number;
}

export interface InvoiceDocLine {
  kind: 'goods' | 'carriage';
  words: string;
  scientificName: string;
  detail: string;
  quantity: number;
  priceMinor: number;
  totalMinor: number;
}

export interface InvoiceDocTax {
  name: string;
  rateThousandths: number;
  mode: 'included' | 'added';
  baseMinor: number;
  taxMinor: number;
}

/** What was paid for the order of an invoice. */
export interface Receipt {
  /** Credit notes for it: what they took off (above zero). */
  credits: { number: string; issuedOn: string; amountMinor: number }[];
  payments: { paidOn: string; way: string; kind: 'payment' | 'refund'; amountMinor: number }[];
  openMinor: number;
  overMinor: number;
}
