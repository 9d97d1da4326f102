import { ArrivalPart, type ArrivalPartProps, CustomerAddress } from '../arrivals/part-of-order.tsx';
import { MoneyPart, type MoneyPartProps } from '../invoices/part-of-order.tsx';
import { Empty } from '../layout/empty.tsx';
import { Facts } from '../layout/facts.tsx';
import type { FormState } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Day } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { MailTable, type MailView } from '../mails/part-mails.tsx';
import { Findings, type FindingsProps } from '../movement/part-findings.tsx';
import { type HistoryStep, OrderHistory } from './order-history.tsx';
import { type OrderLineRow, OrderLines } from './order-lines.tsx';
import { OrderPapers } from './order-papers.tsx';
import { NextStep, type OrderStepsProps, OtherSteps } from './order-steps.tsx';
import { type LineToFill, ReserveForm } from './reserve-form.tsx';
import { Reserved, type ReservedRow } from './reserved.tsx';
import { StateWord } from './state-word.tsx';

export type OrderPageProps = {
  furniture: Furniture;
  order: {
    number: number;
    state: OrderStepsProps['order']['state'];
    dispatchOn: string | null;
    sentOn: string | null;
    tracking: string;
    trackingLink: string;
    note: string;
    postageMinor: number;
    currency: string;
  };
  customer: { id: number; name: string; addressLines: readonly string[]; papers: string };
  lines: readonly OrderLineRow[];
  reserved: readonly ReservedRow[];
  toFill: readonly LineToFill[];
  reserveForm: FormState;
  stepForms: OrderStepsProps['forms'];
  /** The customer's own page of it, and what was said there. */
  arrival: ArrivalPartProps;
  /** Its invoices and payments. */
  money: MoneyPartProps;
  /** The movement rules that touch it, until it has left. */
  movement: Omit<FindingsProps, 'furniture'>;
  /** What was written to the customer about it. */
  mails: readonly MailView[];
  /** Whether the customer can be told by mail. */
  mayTell: boolean;
  history: readonly HistoryStep[];
  timeZone: string;
  today: string;
  /** A culture somebody came from that no line asks for. */
  culture: { code: string; scientificName: string } | null;
};

function missingGroups(lines: readonly OrderLineRow[]): number {
  return lines.reduce((sum, line) => sum + Math.max(0, line.groups - line.has), 0);
}

const purposes: Record<OrderPageProps['order']['state'], (missing: number) => string> = {
  draft: (missing) =>
    missing === 0
      ? 'What they get. All its animals are reserved; next it is confirmed.'
      : `What they get, and which cultures it comes from: ${formatCount(missing, 'group')} not reserved yet.`,
  confirmed: () => 'What they get, and the papers to print. Waiting to be packed.',
  packed: () => 'What they get. It is packed and waits to be sent.',
  sent: () => 'What they get. It is on its way.',
  closed: () => 'What they got, and how it arrived.',
  cancelled: () => 'What they were to get. Its animals were set free.',
};

function Tracking({ tracking, trackingLink }: Pick<OrderPageProps['order'], 'tracking' | 'trackingLink'>) {
  if (!trackingLink) return <>{tracking}</>;
  return (
    <a href={trackingLink} rel="noreferrer">
      {tracking || 'Follow the parcel'}
    </a>
  );
}

function AboutOrder({ order, customer, furniture }: OrderPageProps) {
  const { locale } = furniture;
  return (
    <Facts
      items={[
        {
          term: 'Customer',
          value: <a href={`/customers/${customer.id}`}>{customer.name}</a>,
          note: customer.addressLines.map((line) => (
            <span key={line} class="address-line">
              {line}
            </span>
          )),
        },
        {
          term: 'Dispatch day',
          value: order.dispatchOn ? (
            <Day iso={order.dispatchOn} form="weekday" locale={locale} />
          ) : (
            'not set yet'
          ),
        },
        { term: 'Sent', value: order.sentOn && <Day iso={order.sentOn} form="weekday" locale={locale} /> },
        { term: 'Tracking', value: (order.tracking || order.trackingLink) && <Tracking {...order} /> },
        { term: 'Care sheets', value: customer.papers },
        { term: 'Note', value: order.note && <span class="keep-breaks">{order.note}</span> },
      ]}
    />
  );
}

function OtherCulture({ order, culture }: Pick<OrderPageProps, 'order' | 'culture'>) {
  if (!culture || order.state !== 'draft') return null;
  return (
    <Notice tone="needs-you">
      No line of this order still asks for <i class="latin">{culture.scientificName}</i>, which lives in{' '}
      {culture.code}.{' '}
      <a href={`/orders/${order.number}/edit?culture=${encodeURIComponent(culture.code)}`}>Add a line</a>
    </Notice>
  );
}

function OrderMails({ furniture, mails, timeZone }: OrderPageProps) {
  if (mails.length === 0) return null;
  return (
    <MailTable
      furniture={furniture}
      mails={mails}
      timeZone={timeZone}
      caption="Mails to the customer"
      ofOneOrder
    />
  );
}

/** An order as the owner sees it: what, for whom, from which cultures, and the next step. */
export function OrderPage(props: OrderPageProps) {
  const { furniture, order, lines, reserved, toFill, reserveForm, history, timeZone, today } = props;
  const missing = missingGroups(lines);
  const steps = { furniture, order, missing, today, mayTell: props.mayTell, forms: props.stepForms };
  const isPacked = order.state === 'packed' || order.state === 'sent' || order.state === 'closed';
  return (
    <Shell
      furniture={furniture}
      title={`Order ${order.number}`}
      heading={
        <>
          Order {order.number} <StateWord state={order.state} />
        </>
      }
      purpose={purposes[order.state](missing)}
      width="wide"
      breadcrumbs={[{ href: '/orders', label: 'Orders' }]}
      actions={<NextStep {...steps} />}
    >
      <OtherCulture {...props} />
      <Findings furniture={furniture} {...props.movement} />
      <div class="columns columns-main">
        <div>
          {lines.length === 0 ? (
            <Empty title="This order has no lines." />
          ) : (
            <OrderLines
              lines={lines}
              postageMinor={order.postageMinor}
              currency={order.currency}
              locale={furniture.locale}
              hasWord={isPacked ? 'packed' : 'reserved'}
            />
          )}
          <Reserved
            furniture={furniture}
            number={order.number}
            rows={reserved}
            mayRelease={order.state === 'draft' || order.state === 'confirmed'}
            title={isPacked ? 'Packed' : 'Reserved'}
          />
          <ArrivalPart {...props.arrival} />
          <ReserveForm furniture={furniture} number={order.number} lines={toFill} form={reserveForm} />
        </div>
        <div class="beside">
          <AboutOrder {...props} />
          <OrderPapers number={order.number} state={order.state} />
          <OtherSteps {...steps} />
          <MoneyPart {...props.money} />
          <CustomerAddress {...props.arrival} />
          <OrderMails {...props} />
          <OrderHistory steps={history} timeZone={timeZone} locale={furniture.locale} />
        </div>
      </div>
    </Shell>
  );
}
