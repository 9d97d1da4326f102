import { keptRoutes } from '../plumbing/kept-pages.ts';
import type { RouteTable } from '../plumbing/route-table.ts';
import { askCredit, makeCredit } from './credit.ts';
import { askLedger, downloadLedger } from './ledger.ts';
import { askInvoice, makeInvoice } from './make.ts';
import { addPayment, askPayment, takePaymentBack } from './pay.ts';
import { printInvoice, printReceipt } from './print.ts';
import { keptRates } from './rates.ts';
import { addWay, askInvoicing, bringWayBack, changeInvoicing, retireWay } from './settings.ts';
import { showInvoice, showInvoices } from './show.ts';

const orders = { access: 'owner', nav: 'orders' } as const;
const settings = { access: 'owner', nav: 'settings' } as const;

export const invoiceRoutes: RouteTable = [
  { method: 'GET', path: '/invoices', ...orders, shows: 'invoices', handler: showInvoices },
  { method: 'GET', path: '/invoices/ledger', ...orders, handler: askLedger },
  { method: 'GET', path: '/invoices/ledger.csv', ...orders, shows: 'invoices', handler: downloadLedger },
  { method: 'GET', path: '/invoices/:id', ...orders, shows: 'invoice :id', handler: showInvoice },
  {
    method: 'GET',
    path: '/invoices/:id/invoice.pdf',
    ...orders,
    shows: 'invoice :id',
    handler: printInvoice,
  },
  {
    method: 'GET',
    path: '/invoices/:id/receipt.pdf',
    ...orders,
    shows: 'invoice :id',
    handler: printReceipt,
  },
  { method: 'GET', path: '/invoices/:id/credit', ...orders, shows: 'invoice :id', handler: askCredit },
  { method: 'POST', path: '/invoices/:id/credit', ...orders, handler: makeCredit },
  { method: 'GET', path: '/orders/:number/invoice', ...orders, shows: 'order :number', handler: askInvoice },
  { method: 'POST', path: '/orders/:number/invoice', ...orders, handler: makeInvoice },
  { method: 'GET', path: '/orders/:number/payments', ...orders, shows: 'order :number', handler: askPayment },
  { method: 'POST', path: '/orders/:number/payments', ...orders, handler: addPayment },
  { method: 'POST', path: '/orders/:number/payments/:id/end', ...orders, handler: takePaymentBack },
  { method: 'GET', path: '/settings/invoices', ...settings, handler: askInvoicing },
  { method: 'POST', path: '/settings/invoices', ...settings, handler: changeInvoicing },
  ...keptRoutes(keptRates, settings.nav),
  { method: 'POST', path: '/settings/invoices/ways', ...settings, handler: addWay },
  { method: 'POST', path: '/settings/invoices/ways/:id/retire', ...settings, handler: retireWay },
  { method: 'POST', path: '/settings/invoices/ways/:id/bring-back', ...settings, handler: bringWayBack },
];
