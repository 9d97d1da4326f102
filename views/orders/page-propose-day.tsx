import { urgencyField, urgencyWords } from '../../shared/orders/form.ts';
import { Empty } from '../layout/empty.tsx';
import { FilterBar } from '../layout/filter-bar.tsx';
import { ErrorSummary, Form, SelectField } from '../layout/form.tsx';
import { formatCount, formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { type CultureLeft, Leaves } from './part-leaves.tsx';
import {
  AboutProposal,
  labelsOf,
  ProposalActions,
  type ProposalState,
  type ProposedLine,
  ProposedLineSection,
} from './part-proposal.tsx';
import { sayProposal } from './say-worked-out.ts';

export type ProposedOrder = {
  number: number;
  customerName: string;
  /** 1 when it is like any other, more when it comes first. */
  urgency: number;
  lines: readonly ProposedLine[];
};

export type ProposeDayPageProps = ProposalState & {
  furniture: Furniture;
  day: string;
  orders: readonly ProposedOrder[];
  leaves: readonly CultureLeft[];
  /** Drafts of the day that this page has no room for. */
  noRoomFor: number;
  /** Where the same is proposed anew. */
  again: string;
};

const options = urgencyWords.map((label, i) => ({ value: String(i + 1), label }));

/** Which orders come first where there is not enough for all; a form of its own, for it proposes anew. */
function Urgencies({ day, orders }: Pick<ProposeDayPageProps, 'day' | 'orders'>) {
  return (
    <details open={orders.some(({ urgency }) => urgency > 1)}>
      <summary>Which orders come first where there is not enough for all</summary>
      <p class="quiet">
        A group for an urgent order outweighs any number for others. Among equals, an order that was written
        down earlier is served earlier. Proposing anew replaces the groups entered below.
      </p>
      <FilterBar
        action="/orders/propose"
        label="Which orders come first"
        submit="Propose anew"
        keep={{ day }}
      >
        {orders.map(({ number, customerName, urgency }) => (
          <SelectField
            key={number}
            label={`Order ${number}, ${customerName}`}
            name={urgencyField(number)}
            value={String(urgency)}
            options={options}
          />
        ))}
      </FilterBar>
    </details>
  );
}

type OrderProps = { order: ProposedOrder } & Pick<ProposeDayPageProps, 'form' | 'furniture'>;

function OrderSection({ order, form, furniture }: OrderProps) {
  const { number, customerName, urgency, lines } = order;
  return (
    <section class="proposed-order">
      <h2>
        <a href={`/orders/${number}`}>Order {number}</a> for {customerName}
        {urgency > 1 && <span class="quiet">, {urgencyWords[urgency - 1]?.toLowerCase()}</span>}
      </h2>
      {urgency > 1 && <input type="hidden" name={urgencyField(number)} value={urgency} />}
      {lines.map((proposed) => (
        <ProposedLineSection
          key={proposed.line.id}
          proposed={proposed}
          form={form}
          locale={furniture.locale}
          brief
        />
      ))}
    </section>
  );
}

function labelsFor(orders: readonly ProposedOrder[]): Record<string, string> {
  return Object.assign({}, ...orders.map(({ number, lines }) => labelsOf(lines, `Order ${number}, `)));
}

/** Which cultures could fill all drafts of a packing day best; changed by hand, then reserved in one go. */
export function ProposeDayPage(props: ProposeDayPageProps) {
  const { furniture, day, orders, leaves, form, again, noRoomFor } = props;
  const { locale } = furniture;
  const ofDay = `/orders?from=${day}&to=${day}`;
  const when = formatDay(day, locale, 'weekday');
  const lines = orders.flatMap((order) => order.lines);
  return (
    <Shell
      furniture={furniture}
      title={`Proposal for ${when}`}
      purpose={
        orders.length > 0
          ? formatCount(orders.length, 'draft that lacks animals', 'drafts that lack animals')
          : undefined
      }
      width="wide"
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: ofDay, label: when },
      ]}
    >
      <ErrorSummary
        errors={form.errors}
        labels={labelsFor(orders)}
        title="Nothing is reserved yet, for no order. What to mend:"
      />
      {orders.length === 0 ? (
        <Empty
          title="No draft of this day lacks animals."
          step={{ href: ofDay, label: 'See the orders of the day' }}
        />
      ) : (
        <>
          {noRoomFor > 0 && (
            <Notice tone="needs-you">
              {formatCount(noRoomFor, 'more draft')} of this day {noRoomFor === 1 ? 'has' : 'have'} no room on
              this page. Reserve for these first, then propose again.
            </Notice>
          )}
          <AboutProposal {...props} nothing={leaves.length === 0} locale={locale} />
          <Urgencies day={day} orders={orders} />
          <Form furniture={furniture} action="/orders/propose">
            <input type="hidden" name="day" value={day} />
            <Leaves rows={leaves} locale={locale} />
            {orders.map((order) => (
              <OrderSection key={order.number} order={order} form={form} furniture={furniture} />
            ))}
            <WorkedOut
              of={['allocation', 'surplus', 'population', 'kinship']}
              so={sayProposal(lines, leaves, locale)}
            />
            <ProposalActions again={again} back={ofDay} />
          </Form>
        </>
      )}
    </Shell>
  );
}
