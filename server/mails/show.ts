import { h } from 'preact';
import { withPage } from '../../views/mails/letter.tsx';
import { MailPage } from '../../views/mails/page-mail.tsx';
import { MailsPage } from '../../views/mails/page-mails.tsx';
import { addressOfOrder } from '../arrivals/queries-links.ts';
import { numberIn, pageIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
import { ownAddress } from '../plumbing/own-address.ts';
import { senderOf } from './compose.ts';
import { countMails, listMails, openMails, readMail } from './queries.ts';

const pageSize = 50;

export function showMails(call: StaffCall): Answer {
  const onlyOpen = call.query.open === 'yes';
  const number = pageIn(call);
  const { mail: server } = call.config;
  const open = openMails(call.db);
  return page(
    h(MailsPage, {
      furniture: call.furniture,
      mails: listMails(call.db, { onlyOpen, limit: pageSize, offset: (number - 1) * pageSize }),
      total: onlyOpen ? open : countMails(call.db),
      page: number,
      pageSize,
      open,
      onlyOpen,
      server: server?.host ?? null,
      from: server && senderOf(server, call.business),
      timeZone: call.business.timeZone,
    }),
  );
}

/** The customer's page that a letter leads to, as it would go out now. */
const pageOf = ({ db, clock, config }: StaffCall, orderId: number | null) =>
  orderId === null ? null : addressOfOrder(db, orderId, { base: ownAddress(config), now: clock.now() });

export function showMail(call: StaffCall): Answer {
  const found = readMail(call.db, numberIn(call, 'id', 'mail'));
  if (!found) throw notFound('mail');
  const { mail, orderNumber, customerId, by } = found;
  return page(
    h(MailPage, {
      furniture: call.furniture,
      mail: { ...mail, plain: withPage(mail.plain, pageOf(call, mail.orderId)), orderNumber },
      by,
      customerId,
      timeZone: call.business.timeZone,
    }),
  );
}
