import type { OrderState } from '../../shared/orders/states.ts';
import { LinkButton, PostButton } from '../layout/button.tsx';
import { Code } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';
import { Findings, type FindingsProps } from '../movement/part-findings.tsx';
import { type HistoryStep, OrderHistory } from './order-history.tsx';
import { OrderPapers } from './order-papers.tsx';
import { boxWords, type Pick, PickWords } from './page-pack.tsx';
import { sayPicks } from './say-cups.ts';
import { StateWord } from './state-word.tsx';

export type HelperOrderPageProps = {
  furniture: Furniture;
  order: {
    number: number;
    state: OrderState;
    dispatchOn: string | null;
    note: string;
    customerName: string;
  };
  picks: readonly Pick[];
  movement: Omit<FindingsProps, 'furniture'>;
  history: readonly HistoryStep[];
  timeZone: string;
};

const nothingToPack: Record<OrderState, string> = {
  draft: 'The owner is still writing this order. There is nothing to pack yet.',
  confirmed: 'This order has no animals to pack.',
  packed: 'This order has no animals.',
  sent: 'This order has no animals.',
  closed: 'This order has no animals.',
  cancelled: 'This order was cancelled. Do not pack it.',
};

function PickList({ picks }: { picks: readonly Pick[] }) {
  return (
    <ol class="picks">
      {picks.map((pick) => (
        <li key={pick.key} class="pick">
          <div class="pick-words">
            <span class="pick-place">{pick.place ?? 'No place written down'}</span>
            <span>
              <Code large href={`/cultures/${pick.code}`}>
                {pick.code}
              </Code>
              {pick.line && <span class="quiet"> {pick.line}</span>}
            </span>
            <PickWords pick={pick} />
          </div>
          {pick.blocked && <Notice tone="harm">{pick.blocked}</Notice>}
          {pick.caution && <Notice tone="needs-you">{pick.caution}</Notice>}
        </li>
      ))}
    </ol>
  );
}

function Step({ furniture, order }: { furniture: Furniture; order: HelperOrderPageProps['order'] }) {
  if (order.state === 'confirmed')
    return (
      <LinkButton href={`/orders/${order.number}/pack`} kind="main">
        Pack
      </LinkButton>
    );
  if (order.state === 'packed')
    return (
      <PostButton
        furniture={furniture}
        action={`/orders/${order.number}/unpack`}
        label="Not packed after all"
        kind="quiet"
      />
    );
  return null;
}

/** An order as a helper sees it: what to fetch from where; no prices. */
export function HelperOrderPage(props: HelperOrderPageProps) {
  const { furniture, order, picks, history, timeZone } = props;
  const showsPicks = picks.length > 0 && order.state !== 'draft';
  return (
    <Shell
      furniture={furniture}
      title={`Order ${order.number}`}
      heading={
        <>
          Order {order.number} <StateWord state={order.state} />
        </>
      }
      purpose={`What goes into the box, and the next step. ${boxWords(order, furniture.locale)}.`}
      breadcrumbs={[{ href: '/orders', label: 'Orders' }]}
      actions={<Step furniture={furniture} order={order} />}
    >
      {order.note && (
        <Notice>
          <span class="keep-breaks">{order.note}</span>
        </Notice>
      )}
      <Findings furniture={furniture} {...props.movement} />
      {showsPicks ? <PickList picks={picks} /> : <Empty title={nothingToPack[order.state]} />}
      {showsPicks && picks.length > 0 && <WorkedOut of="cups" so={sayPicks(picks, furniture.locale)} />}
      {showsPicks && <OrderPapers number={order.number} state={order.state} />}
      <OrderHistory steps={history} timeZone={timeZone} locale={furniture.locale} />
    </Shell>
  );
}
