import { z } from 'zod';
import { htmlMail, plainMail } from '../../views/mails/letter.tsx';
import { type AccountNews, accountMail } from '../../views/mails/write.ts';
import { speakerFor } from '../../views/words/speaker.ts';
import type { Call } from '../plumbing/call.ts';
import type { Db } from '../plumbing/open-database.ts';
import { addMail, isTold } from './queries.ts';
import { newsFor } from './queries-tell.ts';

type Whose = { id: string; name: string; signInName: string; role: 'owner' | 'helper' };

/** Somebody's sign-in name where it is an address; an owner's letters go to the business else, a helper has none. */
function addressOf({ signInName, role }: Whose, businessEmail: string): string | null {
  if (z.email().safeParse(signInName).success) return signInName;
  return role === 'owner' && businessEmail ? businessEmail : null;
}

/**
 * Writes to a person what was done with their account, in the transaction that does it (OWASP ASVS 5.0, 6.3.7). Says no
 * more than what and when: whoever reads it elsewhere learns nothing that opens anything.
 */
export function tellPerson(
  tx: Db,
  { config, business, clock }: Pick<Call, 'config' | 'business' | 'clock'>,
  person: Whose,
  news: AccountNews,
): void {
  const now = clock.now();
  const toAddress = addressOf(person, business.email);
  const tellsOf = `account ${news} ${person.id} ${now}`;
  if (config.mail === null || !toAddress || isTold(tx, tellsOf)) return;
  const { language, locale, timeZone } = business;
  const speaker = speakerFor({ language, locale });
  const text = accountMail(speaker, {
    news,
    moment: speaker.moment(now, timeZone),
    name: person.signInName,
    business: business.name,
  });
  addMail(tx, {
    kind: 'account',
    tellsOf,
    orderId: null,
    toName: person.name,
    toAddress,
    language,
    subject: text.subject,
    plain: plainMail(text),
    html: htmlMail(text, language),
    withCareSheets: false,
    giveUpAt: now + newsFor.account,
    madeBy: person.id,
    madeAt: now,
  });
}
