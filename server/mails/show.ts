import { h } from 'preact';
import { MailPage } from '../../views/mails/page-mail.tsx';
import { MailsPage } from '../../views/mails/page-mails.tsx';
import { numberIn, pageIn } from '../plumbing/address.ts';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { notFound } from '../plumbing/errors.ts';
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

export function showMail(call: StaffCall): Answer {
  const found = readMail(call.db, numberIn(call, 'id', 'mail'));
  if (!found) throw notFound('mail');
  const { mail, orderNumber, customerId, by } = found;
  return page(
    h(MailPage, {
      furniture: call.furniture,
      mail: { ...mail, orderNumber },
      by,
      customerId,
      timeZone: call.business.timeZone,
    }),
  );
}
