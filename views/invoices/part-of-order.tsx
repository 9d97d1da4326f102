import type { Settlement } from '../../shared/invoices/settlement.ts';
import type { OrderState } from '../../shared/orders/states.ts';
import { Actions, LinkButton, PostButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Day, Money } from '../layout/number.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { isOverdue, settledWords } from './say.ts';
import { saySettled } from './say-worked-out.ts';

export type MoneyPartProps = {
  furniture: Furniture;
  order: { number: number; currency: string; state: OrderState };
  invoices: readonly {
    id: number;
    number: string;
    kind: 'invoice' | 'credit';
    dueOn: string | null;
    totalMinor: number;
  }[];
  standingId: number | null;
  payments: readonly {
    id: number;
    kind: 'payment' | 'refund';
    amountMinor: number;
    way: string;
    paidOn: string;
    note: string;
  }[];
  owedMinor: number;
  settlement: Settlement;
  /** Why the invoice no longer fits the order. */
  misfit: 'cancelled' | 'draft' | 'changed' | null;
  /** What was done about losses and no credit note says yet. */
  toCredit: readonly { id: number; kind: 'refund' | 'credit' | 'reship'; amountMinor: number }[];
  today: string;
};

const misfits = {
  cancelled: 'This order was cancelled, and its invoice still stands.',
  draft: 'This order is a draft again, and its invoice still stands.',
  changed: 'What is ordered has changed since the invoice was written.',
};

function Hints({ misfit, standingId, toCredit, furniture, order }: MoneyPartProps) {
  if (standingId === null) return null;
  const path = `/invoices/${standingId}/credit`;
  return (
    <>
      {misfit && (
        <Notice tone="needs-you" links={[{ href: path, label: 'Take it back with a credit note' }]}>
          {misfits[misfit]}
        </Notice>
      )}
      {toCredit.map(({ id, kind, amountMinor }) => (
        <Notice
          key={id}
          tone="needs-you"
          links={[{ href: `${path}?amends=${id}`, label: 'Write the credit note' }]}
        >
          A {kind} of <Money minor={amountMinor} currency={order.currency} locale={furniture.locale} /> is
          written down, but no credit note says so yet.
        </Notice>
      ))}
    </>
  );
}

function Documents({ invoices, order, furniture }: MoneyPartProps) {
  return (
    <ul class="plain-list">
      {invoices.map(({ id, number, kind, totalMinor }) => (
        <li key={id}>
          <a href={`/invoices/${id}`}>
            {kind === 'credit' ? 'Credit note' : 'Invoice'} {number}
          </a>
          : <Money minor={totalMinor} currency={order.currency} locale={furniture.locale} />
        </li>
      ))}
    </ul>
  );
}

function Payments({ payments, order, furniture }: MoneyPartProps) {
  const { locale } = furniture;
  return (
    <>
      {payments.map((one) => (
        <div key={one.id} class="arrival-amends">
          <p>
            <strong>{one.kind === 'refund' ? 'Paid back' : 'Paid'}</strong>{' '}
            <Money minor={one.amountMinor} currency={order.currency} locale={locale} />
            <span class="under">
              {one.way}, <Day iso={one.paidOn} locale={locale} />
              {one.note && `: ${one.note}`}
            </span>
          </p>
          <PostButton
            furniture={furniture}
            action={`/orders/${order.number}/payments/${one.id}/end`}
            label="Take it back"
            kind="quiet"
            keyPart={`payment-${one.id}`}
          />
        </div>
      ))}
    </>
  );
}

/** Beside an order: its invoices, what was paid, and what is open. */
export function MoneyPart(props: MoneyPartProps) {
  const { furniture, order, invoices, standingId, payments, owedMinor, settlement, today } = props;
  const { locale } = furniture;
  const { currency } = order;
  const hasInvoice = invoices.length > 0;
  if (order.state === 'draft' && !hasInvoice && payments.length === 0) return null;
  const standing = invoices.find(({ id }) => id === standingId);
  const isLate = standing ? isOverdue({ ...standing, openMinor: settlement.openMinor }, today) : false;
  const mayWrite = standingId === null && order.state !== 'draft' && order.state !== 'cancelled';
  return (
    <section id="money">
      <h2>Money</h2>
      <Hints {...props} />
      <Facts
        items={[
          {
            term: hasInvoice ? 'By its invoices' : 'With taxes',
            computed: 'invoice',
            value: <Money minor={owedMinor} currency={currency} locale={locale} />,
          },
          {
            term: 'Paid',
            computed: 'invoice',
            value: <Money minor={settlement.paidMinor} currency={currency} locale={locale} />,
          },
          {
            term: settledWords(settlement).term,
            computed: 'invoice',
            value: <Money minor={settledWords(settlement).minor} currency={currency} locale={locale} />,
            note:
              isLate && standing?.dueOn ? (
                <>
                  was to be paid by <Day iso={standing.dueOn} locale={locale} />
                </>
              ) : null,
          },
        ]}
      />
      <WorkedOut of="invoice" so={[saySettled(owedMinor, settlement, { currency, locale })]} />
      {hasInvoice && <Documents {...props} />}
      <Payments {...props} />
      <Actions>
        {mayWrite && <LinkButton href={`/orders/${order.number}/invoice`}>Write the invoice</LinkButton>}
        <LinkButton href={`/orders/${order.number}/payments`}>Write down a payment</LinkButton>
      </Actions>
    </section>
  );
}
