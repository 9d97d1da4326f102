import { insertInvoice, nextPlace } from '../../server/invoices/queries.ts';
import { insertRate } from '../../server/invoices/queries-invoicing.ts';
import { insertPayment } from '../../server/invoices/queries-payments.ts';
import type { Db } from '../../server/plumbing/open-database.ts';
import { testNow, testToday } from './test-app.ts';

/** An invoice of 17.50 with 19 % held in it, a tax and a payment of 10.00, each complete by itself. */
export function makeInvoice(db: Db, orderId: number): number {
  insertRate(
    db,
    {
      name: 'VAT',
      rateThousandths: 19_000,
      mode: 'included',
      onGoods: true,
      onCarriage: true,
      fromOn: '2026-01-01',
      untilOn: null,
    },
    testNow,
  );
  const id = nextPlace(db);
  const invoice = {
    id,
    number: `T-${id}`,
    kind: 'invoice' as const,
    orderId,
    creditsId: null,
    amendsId: null,
    currency: 'EUR',
    issuedOn: testToday,
    suppliedOn: testToday,
    dueOn: '2026-12-09',
    language: 'en' as const,
    locale: 'en-GB',
    paper: 'A4' as const,
    sellerName: 'Test Bench',
    sellerAddress: '1 Example Lane\nExampletown',
    sellerEmail: 'bench@example.org',
    sellerTaxNumber: 'DE000000000',
    payWords: '',
    exemptWords: '',
    reason: '',
    netMinor: 1471,
    taxMinor: 279,
    totalMinor: 1750,
    madeBy: null,
    madeAt: testNow,
  };
  const line = { words: 'example isopod', scientificName: 'Exemplum', detail: '', quantity: 1 };
  const tax = { name: 'VAT', rateThousandths: 19_000, mode: 'included' as const };
  db.transaction((tx) =>
    insertInvoice(tx, invoice, {
      lines: [{ ...line, kind: 'goods', priceMinor: 1750, totalMinor: 1750 }],
      taxes: [{ ...tax, onGoods: true, onCarriage: true, baseMinor: 1471, taxMinor: 279 }],
      buyer: { name: 'Carla Customer', address: '2 Example Road\n12345 Exampletown', country: 'DE' },
    }),
  );
  const paid = { kind: 'payment' as const, amountMinor: 1000, wayId: 1, paidOn: testToday, note: '' };
  insertPayment(db, { ...paid, orderId, madeBy: null, madeAt: testNow });
  return id;
}
