import type { OrderState } from '../../shared/orders/states.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';

export type OrderStepsProps = {
  furniture: Furniture;
  order: { number: number; state: OrderState };
  /** Groups that are not reserved yet. */
  missing: number;
  today: string;
  /** Forms of this page that came back. */
  forms: { sent: FormState; cancel: FormState };
};

/** The order's next step, as the page's main action. */
export function NextStep({ furniture, order, missing, today }: OrderStepsProps) {
  const path = `/orders/${order.number}`;
  if (order.state === 'draft')
    return (
      <>
        {missing === 0 && (
          <PostButton
            furniture={furniture}
            action={`${path}/confirm`}
            label="Confirm the order"
            kind="main"
          />
        )}
        <LinkButton href={`${path}/edit`}>Change</LinkButton>
      </>
    );
  if (order.state === 'confirmed')
    return (
      <LinkButton href={`${path}/pack`} kind="main">
        Pack
      </LinkButton>
    );
  if (order.state === 'packed')
    return (
      <PostButton
        furniture={furniture}
        action={`${path}/sent`}
        fields={{ sentOn: today }}
        label="Sent today"
        kind="main"
      />
    );
  if (order.state === 'sent')
    return <PostButton furniture={furniture} action={`${path}/close`} label="Close the order" kind="main" />;
  return null;
}

function SentOnAnotherDay({ furniture, order, forms }: OrderStepsProps) {
  return (
    <details open={Object.keys(forms.sent.errors).length > 0}>
      <summary>Sent on another day</summary>
      <Form furniture={furniture} action={`/orders/${order.number}/sent`} keyPart="day">
        <Field label="It left on" {...fieldOf(forms.sent, 'sentOn')} type="date" />
        <Actions>
          <Button>Mark as sent</Button>
        </Actions>
      </Form>
    </details>
  );
}

function TakeBack({ furniture, order }: OrderStepsProps) {
  const path = `/orders/${order.number}`;
  const words = {
    packed: 'Not packed after all',
    sent: 'Not sent after all',
    closed: 'Not closed after all',
  };
  if (order.state !== 'packed' && order.state !== 'sent' && order.state !== 'closed') return null;
  return (
    <PostButton
      furniture={furniture}
      action={order.state === 'packed' ? `${path}/unpack` : `${path}/back`}
      label={words[order.state]}
      kind="quiet"
    />
  );
}

function Cancel({ furniture, order, forms }: OrderStepsProps) {
  if (order.state !== 'draft' && order.state !== 'confirmed') return null;
  return (
    <details open={Object.keys(forms.cancel.errors).length > 0}>
      <summary>Cancel this order</summary>
      <Form furniture={furniture} action={`/orders/${order.number}/cancel`} keyPart="cancel">
        <Field
          label="Why"
          {...fieldOf(forms.cancel, 'reason')}
          maxLength={500}
          optional
          help="Its animals are free at once. The order keeps its number."
        />
        <Actions>
          <Button kind="harm">Cancel the order</Button>
        </Actions>
      </Form>
    </details>
  );
}

/** The less usual steps. */
export function OtherSteps(props: OrderStepsProps) {
  if (props.order.state === 'cancelled') return null;
  return (
    <section class="other-steps" aria-label="Other steps">
      {props.order.state === 'packed' && <SentOnAnotherDay {...props} />}
      <TakeBack {...props} />
      <Cancel {...props} />
    </section>
  );
}
