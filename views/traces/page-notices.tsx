import type { OrderState } from '../../shared/orders/states.ts';
import type { TraceFilter, Trouble } from '../../shared/traces/form.ts';
import { cultureHref } from '../cultures/page-list.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Code } from '../layout/code.tsx';
import { Empty } from '../layout/empty.tsx';
import { Facts } from '../layout/facts.tsx';
import { ErrorSummary, Form, type FormState, fieldOf, TextAreaField } from '../layout/form.tsx';
import { formatCount, formatDay } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { mailLink } from '../layout/mail-link.ts';
import { Notice } from '../layout/notice.tsx';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import { StateWord } from '../orders/state-word.tsx';
import { draftSubject } from './draft.ts';
import { traceHref, troubleSeen } from './say.ts';

export type NoticeDraft = {
  number: number;
  state: OrderState;
  customer: { name: string; email: string };
  animals: string;
  way: string;
  /** When the order's history says that the customer was told, and by whom. */
  told: { at: number; by: string | null } | null;
  form: FormState;
};

export type NoticesPageProps = {
  furniture: Furniture;
  code: string;
  asked: TraceFilter & { what: Trouble; since: string; seen: string };
  drafts: readonly NoticeDraft[];
  timeZone: string;
};

const labels = { text: 'What they are told' };

function Letter({
  furniture,
  code,
  asked,
  draft,
}: Omit<NoticesPageProps, 'drafts' | 'timeZone'> & { draft: NoticeDraft }) {
  const { number, customer, form } = draft;
  const { what, since, seen, back, sort } = asked;
  const text = String(form.values.text ?? '');
  return (
    <Form furniture={furniture} action={traceHref(code, {}, '/notices')} keyPart={`order-${number}`}>
      <ErrorSummary errors={form.errors} labels={labels} formId={form.id} />
      {Object.entries({ what, since, seen, back, sort, order: number }).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <TextAreaField
        label={labels.text}
        rows={18}
        maxLength={3000}
        help="A draft: change it as you like. Nothing is sent from here."
        {...fieldOf(form, 'text')}
      />
      <Actions>
        <Button kind="main" ariaLabel={`Mark the customer of order ${number} as told`}>
          Mark as told
        </Button>
        {customer.email && (
          <LinkButton href={mailLink(customer.email, { subject: draftSubject(number), body: text })}>
            Open this text as an e-mail
          </LinkButton>
        )}
      </Actions>
      <p class="quiet">
        {customer.email
          ? `To ${customer.email}. Your mail program opens with the text as it came with this page; if it cuts it short, or you changed it here, copy it from the box.`
          : 'No e-mail address is written down of this customer: call, or send it by post.'}
      </p>
    </Form>
  );
}

function OneDraft(props: Omit<NoticesPageProps, 'drafts'> & { draft: NoticeDraft }) {
  const { draft, furniture, timeZone } = props;
  const { number, state, customer, told } = draft;
  const title = `order-${number}`;
  return (
    <section class="slip notice-draft" aria-labelledby={title}>
      <h2 id={title}>
        <a href={`/orders/${number}`}>Order {number}</a>, {customer.name} <StateWord state={state} />
      </h2>
      <Facts
        items={[
          { term: 'Animals', value: draft.animals },
          { term: 'Way', value: draft.way },
        ]}
      />
      {state === 'packed' && (
        <Notice tone="needs-you">
          This box is still here: hold it back and look through it, or unpack it, before you write.
        </Notice>
      )}
      {told ? (
        <>
          <Notice>
            Told on <Moment at={told.at} timeZone={timeZone} locale={furniture.locale} />,{' '}
            {told.by ?? 'nobody signed in'}. The words stand in the history of{' '}
            <a href={`/orders/${number}`}>order {number}</a>.
          </Notice>
          <details open={Object.keys(draft.form.errors).length > 0}>
            <summary>Tell them once more</summary>
            <Letter {...props} />
          </details>
        </>
      ) : (
        <Letter {...props} />
      )}
    </section>
  );
}

/** A letter for each order that got animals; the owner changes, sends and marks them. */
export function NoticesPage(props: NoticesPageProps) {
  const { furniture, code, asked, drafts } = props;
  const trace = traceHref(code, asked);
  const open = drafts.filter(({ told }) => told === null).length;
  return (
    <Shell
      furniture={furniture}
      title={`Notices to customers, ${code}`}
      heading={
        <>
          Notices to customers <Code>{code}</Code>
        </>
      }
      purpose={`Because ${troubleSeen[asked.what]} on ${formatDay(asked.seen, furniture.locale)}. One letter for each order, sent by you.`}
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: cultureHref(code), label: code },
        { href: trace, label: 'Who had contact' },
      ]}
    >
      {drafts.length === 0 ? (
        <Empty
          title="No order got animals in that time."
          step={{ href: trace, label: 'Back to the trace' }}
        />
      ) : (
        <>
          <p>
            {open === 0
              ? 'All of them are told.'
              : `${formatCount(open, 'customer is', 'customers are')} not told yet. Write plainly and early: it spares animals.`}
          </p>
          {drafts.map((draft) => (
            <OneDraft key={draft.number} {...props} draft={draft} />
          ))}
        </>
      )}
    </Shell>
  );
}
