import MailComposer from 'nodemailer/lib/mail-composer';
import type { Business } from '../plumbing/call.ts';
import type { MailServer } from '../plumbing/mail-server.ts';
import type { Letter } from './deliver.ts';
import type { Mail } from './queries.ts';

export type Enclosed = { fileName: string; bytes: Buffer };

/** The address that letters come from; null where neither the settings nor the business has one. */
export function senderOf(server: MailServer, business: Business): string | null {
  return server.from ?? (business.email || null);
}

/** A mail as it goes over the wire (RFC 5322 and MIME): plain text, the same as HTML, and what is enclosed. */
export async function composeMail(
  mail: Mail,
  {
    from,
    business,
    enclosed,
    now,
  }: { from: string; business: Business; enclosed: readonly Enclosed[]; now: number },
): Promise<Letter> {
  const composer = new MailComposer({
    from: { name: business.name, address: from },
    to: { name: mail.toName, address: mail.toAddress },
    ...(business.email && business.email !== from ? { replyTo: business.email } : {}),
    subject: mail.subject,
    text: mail.plain,
    html: mail.html,
    messageId: mail.messageId,
    date: new Date(now),
    // RFC 3834: so that an absent reader's answering machine does not answer a machine.
    headers: { 'Auto-Submitted': 'auto-generated', 'Content-Language': mail.language },
    attachments: enclosed.map(({ fileName, bytes }) => ({
      filename: fileName,
      content: bytes,
      contentType: 'application/pdf',
    })),
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  return { from, to: mail.toAddress, bytes: await composer.compile().build() };
}
