import { Button } from '../layout/button.tsx';
import { Empty } from '../layout/empty.tsx';
import { Form } from '../layout/form.tsx';
import { formatCount } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Pager } from '../layout/pager.tsx';
import { Shell } from '../layout/shell.tsx';
import { MailTable, type MailView } from './part-mails.tsx';

export type MailsPageProps = {
  furniture: Furniture;
  mails: readonly MailView[];
  total: number;
  page: number;
  pageSize: number;
  /** Mails that need somebody. */
  open: number;
  /** Whether only those are listed. */
  onlyOpen: boolean;
  /** Where mails go out through; null where no mail server is named. */
  server: string | null;
  /** The address that mails come from; null for none. */
  from: string | null;
  timeZone: string;
};

function NoServer() {
  return (
    <Notice tone="plain">
      No mail server is named, so nothing is sent and no mail is written. Whoever runs the service sets
      SMTP_HOST, SMTP_USER and SMTP_PASSWORD_FILE in its environment (README, “Mail”) and starts it again.
    </Notice>
  );
}

function Server({ furniture, server, from }: MailsPageProps) {
  if (!server) return <NoServer />;
  return (
    <Form furniture={furniture} action="/mails/test">
      <p>
        Mails go out through {server}, from {from ?? 'no address yet: write one under Settings, the business'}
        . A mail waits a minute first, so that a step can be taken back.
      </p>
      <div class="actions">
        <Button>Send the business a test mail</Button>
      </div>
    </Form>
  );
}

/** Everything that went out to customers, and what did not. */
export function MailsPage(props: MailsPageProps) {
  const { furniture, mails, open, onlyOpen, timeZone, page, pageSize, total } = props;
  return (
    <Shell
      furniture={furniture}
      title="Mails"
      purpose="What was written to customers about their orders, and whether it went out."
      width="wide"
      breadcrumbs={[{ href: '/orders', label: 'Orders' }]}
    >
      {open > 0 && (
        <Notice
          tone="needs-you"
          links={
            onlyOpen
              ? [{ href: '/mails', label: 'Show all' }]
              : [{ href: '/mails?open=yes', label: 'Show these' }]
          }
        >
          {formatCount(open, 'mail')} did not go out for certain.
        </Notice>
      )}
      <Server {...props} />
      {mails.length === 0 ? (
        <Empty title={onlyOpen ? 'Nothing needs you here.' : 'No mail yet.'}>
          <p>One is written when you confirm or send an order and tell the customer.</p>
        </Empty>
      ) : (
        <>
          <MailTable
            furniture={furniture}
            mails={mails}
            timeZone={timeZone}
            caption="Mails, the newest first"
          />
          <Pager
            page={page}
            pageSize={pageSize}
            total={total}
            href={(to) => `/mails?${onlyOpen ? 'open=yes&' : ''}page=${to}`}
            what={total === 1 ? 'mail' : 'mails'}
            locale={furniture.locale}
          />
        </>
      )}
    </Shell>
  );
}
