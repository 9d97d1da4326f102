import type { Settlement } from '../../shared/invoices/settlement.ts';
import { type LineKind, lineKinds, writeRate } from '../../shared/invoices/tax.ts';
import { formatMoney } from '../layout/format.ts';
import type { InvoiceTableProps } from './invoice-table.tsx';

type Tax = InvoiceTableProps['taxes'][number];

const kindWords: Record<LineKind, string> = { goods: 'animals', carriage: 'postage' };
const isOn = ({ onGoods, onCarriage }: Tax, kind: LineKind) => (kind === 'goods' ? onGoods : onCarriage);
const ofKind = ({ lines }: Pick<InvoiceTableProps, 'lines'>, kind: LineKind) =>
  lines.filter((line) => line.kind === kind).reduce((sum, line) => sum + line.totalMinor, 0);

/** A tax that prices hold, for each kind of line that it is on: `€17.50 for animals × 19 ÷ (100 + 19)`. */
function sayHeld(tax: Tax, invoice: InvoiceTableProps, money: (minor: number) => string): string {
  const parts = lineKinds.flatMap((kind) => {
    const amount = ofKind(invoice, kind);
    if (!isOn(tax, kind) || amount === 0) return [];
    const held = invoice.taxes
      .filter((one) => one.mode === 'included' && isOn(one, kind))
      .map(({ rateThousandths }) => writeRate(rateThousandths));
    return [
      `${money(amount)} for ${kindWords[kind]} × ${writeRate(tax.rateThousandths)} ÷ (100 + ${held.join(' + ')})`,
    ];
  });
  return `${tax.name}: ${parts.join(', and ')}, rounded${parts.length > 1 ? ' each' : ''} = ${money(tax.taxMinor)}.`;
}

/** What an invoice comes to, step by step. */
export function sayInvoice(invoice: InvoiceTableProps): string[] {
  const { lines, taxes, netMinor, totalMinor, currency, locale } = invoice;
  const money = (minor: number) => formatMoney(minor, currency, locale);
  const all = lines.reduce((sum, line) => sum + line.totalMinor, 0);
  const held = taxes.filter(({ mode }) => mode === 'included');
  const added = taxes.filter(({ mode }) => mode === 'added');
  const minus = held.map(({ taxMinor }) => ` − ${money(taxMinor)}`).join('');
  const plus = taxes.map(({ taxMinor }) => ` + ${money(taxMinor)}`).join('');
  return [
    ...(lines.length > 1
      ? [`Lines: ${lines.map(({ totalMinor: one }) => money(one)).join(' + ')} = ${money(all)}.`]
      : []),
    ...held.filter(({ baseMinor }) => baseMinor !== 0).map((tax) => sayHeld(tax, invoice, money)),
    ...(held.length > 0 ? [`Without tax: ${money(all)}${minus} = ${money(netMinor)}.`] : []),
    ...added.map(
      ({ name, rateThousandths, baseMinor, taxMinor }) =>
        `${name}: ${money(baseMinor)} × ${writeRate(rateThousandths)} ÷ 100, rounded = ${money(taxMinor)}.`,
    ),
    ...(taxes.length > 0 ? [`Total: ${money(netMinor)}${plus} = ${money(totalMinor)}.`] : []),
  ];
}

/** What is open after what was paid, step by step. */
export function saySettled(
  owedMinor: number,
  { paidMinor, openMinor, overMinor }: Settlement,
  { currency, locale }: { currency: string; locale?: string | undefined },
): string {
  const money = (minor: number) => formatMoney(minor, currency, locale);
  const rest = overMinor > 0 ? `${money(overMinor)} too much` : `${money(openMinor)} open`;
  const sum =
    overMinor > 0
      ? `${money(paidMinor)} − ${money(owedMinor)} owed`
      : `${money(owedMinor)} owed − ${money(paidMinor)}`;
  return overMinor > 0 ? `Paid ${sum} = ${rest}.` : `${sum} paid = ${rest}.`;
}
