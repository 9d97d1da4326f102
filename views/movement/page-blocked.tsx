import type { MovementFinding } from '../../shared/movement/judge.ts';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ErrorSummary, Form, type FormState, fieldOf, TextAreaField } from '../layout/form.tsx';
import { formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { Findings } from './part-findings.tsx';

export type BlockedPageProps = {
  furniture: Furniture;
  order: { number: number };
  /** What was to be done: 'confirmed'. */
  step: 'confirmed' | 'packed' | 'sent';
  /** The day the rules were looked at for. */
  day: string;
  blocks: readonly MovementFinding[];
  warnings: readonly MovementFinding[];
  /** The form that was refused, for a parcel that has left all the same; only where it was to be marked as sent. */
  sent: FormState | null;
};

const kept = ['sentOn', 'tracking', 'trackingLink', 'tell'] as const;

/** What happened is written down as it happened, with the reason, even where a rule stood against it. */
function HasLeft({ furniture, order, sent }: BlockedPageProps) {
  if (sent === null) return null;
  return (
    <details open={Object.keys(sent.errors).length > 0}>
      <summary>It has left already</summary>
      <Form furniture={furniture} action={`/orders/${order.number}/sent`}>
        <ErrorSummary errors={sent.errors} />
        {kept.map((name) => {
          const value = fieldOf(sent, name).value;
          return value ? <input key={name} type="hidden" name={name} value={String(value)} /> : null;
        })}
        <TextAreaField
          label="Why it went all the same"
          {...fieldOf(sent, 'despite')}
          maxLength={500}
          help="Kept in the order’s history. Nothing becomes allowed by it."
        />
        <Actions>
          <Button kind="harm">Write down that it left</Button>
        </Actions>
      </Form>
    </details>
  );
}

/** An order that a movement rule stops: which rule, why, and what to do. */
export function BlockedPage(props: BlockedPageProps) {
  const { furniture, order, step, day, blocks, warnings } = props;
  const isOwner = furniture.who?.role === 'owner';
  return (
    <Shell
      furniture={furniture}
      title={`Order ${order.number} may not go`}
      purpose={`It was not ${step}: ${blocks.length === 1 ? 'a movement rule stands' : 'movement rules stand'} against it on ${formatDay(day, furniture.locale, 'weekday')}.`}
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: `/orders/${order.number}`, label: `Order ${order.number}` },
      ]}
    >
      <Findings furniture={furniture} blocks={blocks} warnings={warnings} />
      <Actions>
        <LinkButton href={`/orders/${order.number}`} kind="main">
          Back to the order
        </LinkButton>
        {isOwner && <LinkButton href="/movement">Movement rules</LinkButton>}
      </Actions>
      <HasLeft {...props} />
    </Shell>
  );
}
