import { addressLines } from '../../shared/customers/address.ts';
import type { OrderState } from '../../shared/orders/states.ts';
import { type Language, languageNames } from '../../shared/settings/languages.ts';
import { LinkButton } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { Facts } from '../layout/facts.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Day, Money } from '../layout/number.tsx';
import { Pager } from '../layout/pager.tsx';
import { Shell } from '../layout/shell.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { Findings, type FindingsProps } from '../movement/part-findings.tsx';
import { sayTotal, type TotalledOrder } from '../orders/say-total.ts';
import { StateWord } from '../orders/state-word.tsx';
import { paperWords, unitWords } from './customer-fields.tsx';

export type CustomerOrder = {
  number: number;
  state: OrderState;
  madeOn: string;
  dispatchOn: string | null;
  groups: number;
  totalMinor: number;
  currency: string;
};

export type CustomerPageProps = {
  furniture: Furniture;
  customer: {
    id: number;
    name: string;
    email: string;
    phone: string;
    street: string;
    postcode: string;
    city: string;
    region: string;
    country: string;
    units: 'metric' | 'us';
    paper: 'A4' | 'Letter';
    language: Language;
    note: string;
    retired: boolean;
  };
  /** The day the person was taken out; null for anybody else. */
  erasedOn: string | null;
  /** Invoices that are kept with the name, and until when. */
  invoices: { count: number; until: string } | null;
  /** The movement rules that touch orders which have not left yet. */
  movement: readonly (Omit<FindingsProps, 'furniture'> & { number: number })[];
  orders: readonly CustomerOrder[];
  /** One of them with what its total is added up from. */
  example: TotalledOrder | null;
  total: number;
  page: number;
  pageSize: number;
  pageHref: (page: number) => string;
};

function Lines({ text }: { text: string }) {
  return (
    <>
      {text.split('\n').map((line, index) => (
        <span key={index} class="address-line">
          {line}
        </span>
      ))}
    </>
  );
}

function columnsFor(locale: string | undefined): Column<CustomerOrder>[] {
  return [
    { key: 'number', head: 'Order', cell: (row) => <a href={`/orders/${row.number}`}>Order {row.number}</a> },
    { key: 'state', head: 'State', cell: (row) => <StateWord state={row.state} /> },
    { key: 'made', head: 'Written', cell: (row) => <Day iso={row.madeOn} locale={locale} /> },
    {
      key: 'dispatch',
      head: 'Dispatch',
      cell: (row) => (row.dispatchOn ? <Day iso={row.dispatchOn} locale={locale} /> : 'no day yet'),
    },
    { key: 'groups', head: 'Groups', numeric: true, cell: (row) => row.groups },
    {
      key: 'total',
      head: 'Total',
      numeric: true,
      computed: 'total',
      cell: (row) => <Money minor={row.totalMinor} currency={row.currency} locale={locale} />,
    },
  ];
}

function AboutCustomer({ customer }: Pick<CustomerPageProps, 'customer'>) {
  const { email, phone, note, units, paper, language } = customer;
  return (
    <Facts
      columns={2}
      items={[
        { term: 'Address', value: <Lines text={addressLines(customer).join('\n')} /> },
        { term: 'E-mail', value: email && <a href={`mailto:${email}`}>{email}</a> },
        {
          term: 'Telephone',
          value: phone && <a href={`tel:${phone.replace(/[^\d+]/g, '')}`}>{phone}</a>,
        },
        { term: 'Language', value: languageNames[language] },
        { term: 'Care sheets', value: `${unitWords[units]}, on ${paperWords[paper]}` },
        { term: 'Note', value: note && <Lines text={note} /> },
      ]}
    />
  );
}

function Orders(props: CustomerPageProps) {
  const { furniture, customer, orders, total, page, pageSize, pageHref } = props;
  if (orders.length === 0) return <Empty title={`${customer.name} has no orders yet.`} />;
  return (
    <>
      <DataTable
        caption={`Orders of ${customer.name}`}
        hideCaption
        columns={columnsFor(furniture.locale)}
        rows={orders}
        rowKey={(row) => row.number}
      />
      <Pager
        page={page}
        pageSize={pageSize}
        total={total}
        href={pageHref}
        what={total === 1 ? 'order' : 'orders'}
        locale={furniture.locale}
      />
      <WorkedOut of="total" so={sayTotal(props.example, furniture.locale)} />
    </>
  );
}

function Erased({ erasedOn, invoices, furniture }: CustomerPageProps) {
  if (erasedOn === null) return null;
  return (
    <Notice>
      This person was erased on <Day iso={erasedOn} locale={furniture.locale} />. The orders stay.
      {invoices && (
        <>
          {' '}
          Name and address are kept on {formatCount(invoices.count, 'invoice')} until{' '}
          <Day iso={invoices.until} locale={furniture.locale} />, by the years set for keeping invoices.
        </>
      )}
    </Notice>
  );
}

function Links({ customer }: Pick<CustomerPageProps, 'customer'>) {
  return (
    <>
      {!customer.retired && (
        <LinkButton href={`/orders/new?customer=${customer.id}`} kind="main">
          New order
        </LinkButton>
      )}
      <LinkButton href={`/customers/${customer.id}/edit`}>Change</LinkButton>
    </>
  );
}

/** What the law of many places gives customers: their data, and to be forgotten. */
const TheirData = ({ id }: { id: number }) => (
  <section id="data">
    <h2>Their data</h2>
    <p>
      <a href={`/customers/${id}/data.zip`}>Give out all that is kept of them</a> (ZIP with JSON, CSV and
      photos), or <a href={`/customers/${id}/erase`}>erase them</a>.
    </p>
  </section>
);

/** What the movement rules say of orders that have not left yet. */
const UnderRules = ({ movement, furniture }: CustomerPageProps) => (
  <>
    {movement.map(({ number, ...found }) => (
      <section key={number}>
        <h3>
          <a href={`/orders/${number}`}>Order {number}</a> under the movement rules
        </h3>
        <Findings furniture={furniture} id={`movement-${number}`} {...found} />
      </section>
    ))}
  </>
);

/** One customer: where the box goes, and what they had. */
export function CustomerPage(props: CustomerPageProps) {
  const { furniture, customer } = props;
  return (
    <Shell
      furniture={furniture}
      title={customer.name}
      purpose="Where the box goes, which papers are in it, and all their orders."
      width="wide"
      breadcrumbs={[{ href: '/customers', label: 'Customers' }]}
      actions={props.erasedOn === null && <Links customer={customer} />}
    >
      <Erased {...props} />
      {customer.retired && props.erasedOn === null && (
        <Notice>This customer is put away and not offered for new orders. Change that under Change.</Notice>
      )}
      <AboutCustomer customer={customer} />
      <h2>Orders</h2>
      <UnderRules {...props} />
      <Orders {...props} />
      {props.erasedOn === null && <TheirData id={customer.id} />}
    </Shell>
  );
}
