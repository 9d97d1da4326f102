import { withPage } from '../../views/mails/letter.tsx';
import type { Business } from '../plumbing/call.ts';
import type { Clock } from '../plumbing/clock.ts';
import type { JobsLog } from '../plumbing/jobs.ts';
import { keepLooking } from '../plumbing/keep-looking.ts';
import type { MailServer } from '../plumbing/mail-server.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readBusiness } from '../settings/queries.ts';
import { composeMail, type Enclosed, senderOf } from './compose.ts';
import { type Delivery, deliver } from './deliver.ts';
import { beginHanding, doubtHalfSent, dueMail, giveUpOld, type Mail, settleTry } from './queries.ts';

export type Sending = {
  db: Db;
  clock: Clock;
  log: JobsLog;
  server: MailServer;
  /** The address of the customer's page of the order a mail tells of; null where none opens anything. */
  pageOf: (mail: Mail) => string | null;
  /** The papers that go along with a mail. */
  enclose: (mail: Mail, business: Business) => Promise<Enclosed[]>;
};

class StoppedMeanwhile extends Error {}

const isStopped = (error: unknown) => error instanceof StoppedMeanwhile;

/** One try of one mail. */
async function tryOnce(
  { db, clock, server, pageOf, enclose }: Sending,
  mail: Mail,
): Promise<Delivery | null> {
  const business = readBusiness(db);
  const from = senderOf(server, business);
  if (!from) return { kind: 'later', answer: 'The business has no e-mail address to send from.' };
  const enclosed = await enclose(mail, business);
  const page = pageOf(mail);
  const filled = { ...mail, plain: withPage(mail.plain, page), html: withPage(mail.html, page) };
  const letter = await composeMail(filled, { from, business, enclosed, now: clock.now() });
  try {
    return await deliver(server, letter, () => {
      if (!beginHanding(db, mail.id)) throw new StoppedMeanwhile();
    });
  } catch (error) {
    if (isStopped(error)) return null;
    throw error;
  }
}

/** Sends every mail whose time has come, one after the other; returns how many tries that were. */
export async function sendDue(sending: Sending, mayGoOn: () => boolean = () => true): Promise<number> {
  const { db, clock, log } = sending;
  giveUpOld(db, clock.now());
  let tries = 0;
  for (let mail = dueMail(db, clock.now()); mail && mayGoOn(); mail = dueMail(db, clock.now())) {
    tries += 1;
    let ended: Delivery | null;
    try {
      ended = await tryOnce(sending, mail);
    } catch (err) {
      log.error({ err, mail: mail.id }, 'mail could not be made');
      ended = { kind: 'later', answer: 'It could not be made; the log of the service says why.' };
    }
    if (ended === null) continue;
    settleTry(db, mail, ended, clock.now());
    // Neither the address nor the words: those are the customer's.
    log.info({ mail: mail.id, ended: ended.kind }, 'mail tried');
  }
  return tries;
}

const everyMs = 5_000;
const longestGoodByeMs = 3_500;

/** Keeps sending until it is stopped; stopping lets the mail that is on its way arrive. Only main.ts does this. */
export function startSending(sending: Sending): () => Promise<void> {
  doubtHalfSent(sending.db, sending.clock.now());
  return keepLooking((isStopped) => sendDue(sending, () => !isStopped()), {
    everyMs,
    log: sending.log,
    failed: 'mails could not be sent',
    longestGoodByeMs,
  });
}
