import { PostButton } from '../layout/button.tsx';
import { Facts } from '../layout/facts.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';
import type { MailView } from './part-mails.tsx';
import { adviceOn, mailKindWords, mailStateWords, needsSomebody } from './state-words.ts';

export type MailPageProps = {
  furniture: Furniture;
  mail: MailView & { plain: string; withCareSheets: boolean; tries: number };
  by: string | null;
  customerId: number | null;
  timeZone: string;
};

function Steps({ furniture, mail }: MailPageProps) {
  const path = `/mails/${mail.id}`;
  const mayStop = mail.state === 'waiting' || needsSomebody(mail.state);
  const mayGo = needsSomebody(mail.state) || mail.state === 'stopped';
  return (
    <>
      {mayGo && (
        <PostButton furniture={furniture} action={`${path}/again`} label="Send it again" kind="main" />
      )}
      {mayStop && (
        <PostButton
          furniture={furniture}
          action={`${path}/stop`}
          label={mail.state === 'waiting' ? 'Stop it' : 'Leave it'}
        />
      )}
    </>
  );
}

/** One mail as the customer reads it, what became of it, and what can be done. */
export function MailPage(props: MailPageProps) {
  const { furniture, mail, by, customerId, timeZone } = props;
  const { locale } = furniture;
  const advice = adviceOn(mail);
  return (
    <Shell
      furniture={furniture}
      title={mailKindWords[mail.kind]}
      purpose={`Mail to ${mail.toName}: ${mailStateWords[mail.state]}.`}
      breadcrumbs={[
        { href: '/orders', label: 'Orders' },
        { href: '/mails', label: 'Mails' },
      ]}
      actions={<Steps {...props} />}
    >
      {advice && <Notice tone={needsSomebody(mail.state) ? 'needs-you' : 'plain'}>{advice}</Notice>}
      <Facts
        items={[
          {
            term: 'To',
            value:
              customerId === null ? (
                mail.toAddress
              ) : (
                <a href={`/customers/${customerId}`}>{mail.toAddress}</a>
              ),
          },
          mail.orderNumber !== null && {
            term: 'Order',
            value: <a href={`/orders/${mail.orderNumber}`}>Order {mail.orderNumber}</a>,
          },
          { term: 'Subject', value: mail.subject },
          mail.withCareSheets && { term: 'Enclosed', value: 'care sheets as PDF' },
          {
            term: 'Written',
            value: <Moment at={mail.madeAt} timeZone={timeZone} locale={locale} />,
            note: by ? ` by ${by}` : undefined,
          },
          mail.tries > 0 && { term: 'Tries', value: mail.tries },
          mail.settledAt !== null && {
            term: mailStateWords[mail.state],
            value: <Moment at={mail.settledAt} timeZone={timeZone} locale={locale} />,
          },
        ]}
      />
      <h2>The letter</h2>
      <p class="keep-breaks">{mail.plain}</p>
    </Shell>
  );
}
