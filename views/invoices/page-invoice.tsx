import type { Settlement } from '../../shared/invoices/settlement.ts';
import type { InvoiceDoc } from '../documents/invoice-data.ts';
import { LinkButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Day, Money } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { InvoiceTable, type InvoiceTableProps } from './invoice-table.tsx';
import { isOverdue, settledWords } from './say.ts';
import { saySettled } from './say-worked-out.ts';

export type InvoicePageProps = {
  furniture: Furniture;
  id: number;
  doc: InvoiceDoc & Pick<InvoiceTableProps, 'taxes'>;
  /** The invoice that a credit note takes back. */
  creditsId: number | null;
  credits: readonly { id: number; number: string; totalMinor: number }[];
  /** What credit notes have left of it. */
  leftMinor: number;
  payments: readonly unknown[];
  /** By all invoices of the order. */
  owedMinor: number;
  settlement: Settlement;
  today: string;
};

const mayCredit = ({ doc, credits, leftMinor }: InvoicePageProps) =>
  doc.kind === 'invoice' && (credits.length === 0 || leftMinor > 0);

function Links(props: InvoicePageProps) {
  const { id, doc, payments } = props;
  return (
    <>
      <LinkButton href={`/invoices/${id}/invoice.pdf`} kind="main">
        Print (PDF)
      </LinkButton>
      {doc.kind === 'invoice' && payments.length > 0 && (
        <LinkButton href={`/invoices/${id}/receipt.pdf`}>Receipt (PDF)</LinkButton>
      )}
      {mayCredit(props) && <LinkButton href={`/invoices/${id}/credit`}>Write a credit note</LinkButton>}
    </>
  );
}

function Credits({ credits, doc, furniture }: InvoicePageProps) {
  if (credits.length === 0) return null;
  return (
    <Notice>
      Taken back, all of it or a part:{' '}
      {credits.map(({ id, number, totalMinor }, index) => (
        <span key={id}>
          {index > 0 && ', '}
          <a href={`/invoices/${id}`}>credit note {number}</a> (
          <Money minor={totalMinor} currency={doc.currency} locale={furniture.locale} />)
        </span>
      ))}
    </Notice>
  );
}

function About({ doc, creditsId, owedMinor, settlement, furniture, today }: InvoicePageProps) {
  const { locale } = furniture;
  const { term, minor } = settledWords(settlement);
  const isLate = isOverdue({ dueOn: doc.dueOn, openMinor: settlement.openMinor }, today);
  return (
    <Facts
      columns={2}
      items={[
        {
          term: 'To',
          value: doc.buyer ? doc.buyer.name : 'The person was erased.',
          note: doc.buyer && <span class="keep-breaks">{doc.buyer.address}</span>,
        },
        {
          term: 'Order',
          value: <a href={`/orders/${doc.orderNumber}`}>Order {doc.orderNumber}</a>,
        },
        doc.credits && {
          term: 'Takes back',
          value: <a href={`/invoices/${creditsId}`}>Invoice {doc.credits.number}</a>,
        },
        { term: 'Reason', value: doc.reason },
        { term: 'Written', value: <Day iso={doc.issuedOn} locale={locale} /> },
        { term: 'Day of supply', value: <Day iso={doc.suppliedOn} locale={locale} /> },
        doc.dueOn !== null && {
          term: 'To be paid by',
          value: <Day iso={doc.dueOn} locale={locale} />,
          note: isLate && 'overdue',
        },
        doc.kind === 'invoice' && {
          term: `${term}, of the whole order`,
          computed: 'invoice',
          value: <Money minor={minor} currency={doc.currency} locale={locale} />,
          note: saySettled(owedMinor, settlement, { currency: doc.currency, locale }),
        },
      ]}
    />
  );
}

/** One invoice or credit note, as it was written. */
export function InvoicePage(props: InvoicePageProps) {
  const { furniture, doc } = props;
  return (
    <Shell
      furniture={furniture}
      title={`${doc.kind === 'credit' ? 'Credit note' : 'Invoice'} ${doc.number}`}
      purpose="As it was written. A mistake is set right by a credit note, never by a change."
      width="wide"
      breadcrumbs={[
        { href: '/invoices', label: 'Invoices' },
        { href: `/orders/${doc.orderNumber}`, label: `Order ${doc.orderNumber}` },
      ]}
      actions={<Links {...props} />}
    >
      <Credits {...props} />
      <About {...props} />
      <InvoiceTable
        lines={doc.lines}
        taxes={doc.taxes}
        netMinor={doc.netMinor}
        totalMinor={doc.totalMinor}
        currency={doc.currency}
        locale={furniture.locale}
        caption="What it says"
      />
      {doc.exemptWords && <p>{doc.exemptWords}</p>}
    </Shell>
  );
}
