import type { OrderState } from '../../shared/orders/states.ts';
import { Actions, Button, LinkButton, PostButton } from '../layout/button.tsx';
import { CheckField, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';

export type OrderStepsProps = {
  furniture: Furniture;
  order: { number: number; state: OrderState };
  /** Groups that are not reserved yet. */
  missing: number;
  today: string;
  /** Whether the customer can be told by mail. */
  mayTell: boolean;
  /** Forms of this page that came back. */
  forms: { sent: FormState; cancel: FormState };
};

function Confirm({ furniture, order, mayTell }: OrderStepsProps) {
  const action = `/orders/${order.number}/confirm`;
  if (!mayTell)
    return <PostButton furniture={furniture} action={action} label="Confirm the order" kind="main" />;
  return (
    <>
      <PostButton
        furniture={furniture}
        action={action}
        fields={{ tell: 'yes' }}
        label="Confirm and tell the customer"
        kind="main"
      />
      <PostButton furniture={furniture} action={action} label="Confirm without a mail" />
    </>
  );
}

/** The order's next step, as the page's main action. */
export function NextStep(props: OrderStepsProps) {
  const { furniture, order, missing, today, mayTell } = props;
  const path = `/orders/${order.number}`;
  if (order.state === 'draft')
    return (
      <>
        {missing === 0 && <Confirm {...props} />}
        <LinkButton href={`${path}/edit`}>Change</LinkButton>
      </>
    );
  if (order.state === 'confirmed')
    return (
      <LinkButton href={`${path}/pack`} kind="main">
        Pack
      </LinkButton>
    );
  if (order.state === 'packed' && mayTell)
    return (
      <LinkButton href="#send" kind="main">
        Mark as sent
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

function SentForm({ furniture, order, mayTell, forms }: OrderStepsProps) {
  const { values } = forms.sent;
  return (
    <Form furniture={furniture} action={`/orders/${order.number}/sent`} keyPart="day">
      <Field label="It left on" {...fieldOf(forms.sent, 'sentOn')} type="date" />
      <Field label="Tracking number" {...fieldOf(forms.sent, 'tracking')} maxLength={100} optional />
      <Field
        label="Address to follow it at"
        {...fieldOf(forms.sent, 'trackingLink')}
        type="url"
        maxLength={500}
        optional
        help="Such as https://carrier.example.org/parcel/123"
      />
      {mayTell && (
        <CheckField
          label="Tell the customer by mail, with the care sheets enclosed"
          name="tell"
          checked={values.tell === 'yes'}
        />
      )}
      <Actions>
        <Button kind={mayTell ? 'main' : 'plain'}>Mark as sent</Button>
      </Actions>
    </Form>
  );
}

function Sent(props: OrderStepsProps) {
  if (props.mayTell)
    return (
      <section id="send">
        <h2>Send it</h2>
        <SentForm {...props} />
      </section>
    );
  return (
    <details open={Object.keys(props.forms.sent.errors).length > 0}>
      <summary>Sent on another day, or with a tracking number</summary>
      <SentForm {...props} />
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
      {props.order.state === 'packed' && <Sent {...props} />}
      <TakeBack {...props} />
      <Cancel {...props} />
    </section>
  );
}
