import type { Furniture } from '../layout/furniture.ts';
import { Mark } from '../layout/mark.tsx';
import { Moment } from '../layout/number.tsx';
import { type Column, DataTable } from '../layout/table.tsx';
import { adviceOn, mailKindWords, mailStateWords, needsSomebody } from './state-words.ts';

export type MailView = {
  id: number;
  kind: 'order confirmed' | 'order sent' | 'order held' | 'test' | 'warning' | 'requests' | 'account';
  state: 'waiting' | 'sending' | 'sent' | 'unsure' | 'refused' | 'too late' | 'stopped';
  subject: string;
  toName: string;
  toAddress: string;
  answer: string;
  orderNumber: number | null;
  madeAt: number;
  settledAt: number | null;
};

function State({ mail }: { mail: MailView }) {
  return (
    <>
      {needsSomebody(mail.state) && <Mark kind="needs-you" />} {mailStateWords[mail.state]}
      {adviceOn(mail) && <span class="cell-note">{adviceOn(mail)}</span>}
    </>
  );
}

/** Mails in a table, the newest first. */
export function MailTable(props: {
  furniture: Furniture;
  mails: readonly MailView[];
  timeZone: string;
  caption: string;
  hideCaption?: boolean;
  /** On the page of an order, whose number need not be said again. */
  ofOneOrder?: boolean;
}) {
  const { furniture, mails, timeZone, ofOneOrder } = props;
  const { locale } = furniture;
  const columns: Column<MailView>[] = [
    {
      key: 'what',
      head: 'Mail',
      phoneLabel: '',
      cell: (mail) => (
        <>
          <a href={`/mails/${mail.id}`}>{mailKindWords[mail.kind]}</a>
          {!ofOneOrder && mail.orderNumber !== null && (
            <>
              {', '}
              <a href={`/orders/${mail.orderNumber}`}>order {mail.orderNumber}</a>
            </>
          )}
        </>
      ),
    },
    {
      key: 'to',
      head: 'To',
      cell: (mail) => (
        <>
          {mail.toName}
          <span class="cell-note">{mail.toAddress}</span>
        </>
      ),
    },
    { key: 'state', head: 'State', phoneWide: true, cell: (mail) => <State mail={mail} /> },
    {
      key: 'when',
      head: 'When',
      cell: (mail) => <Moment at={mail.settledAt ?? mail.madeAt} timeZone={timeZone} locale={locale} />,
    },
  ];
  return (
    <DataTable
      caption={props.caption}
      hideCaption={props.hideCaption}
      columns={columns}
      rows={mails}
      rowKey={(mail) => mail.id}
      rowTone={(mail) => (needsSomebody(mail.state) ? 'needs-you' : undefined)}
    />
  );
}
