import { isLanguage } from '../../shared/settings/languages.ts';
import { type Answer, pdf } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { printWhole } from '../plumbing/print-in-thread.ts';
import { printOptionsFor } from '../plumbing/printing.ts';
import { offerSettings, offersFor } from './queries.ts';

/** The list on paper, in the language the address names, else in that of new customers. */
export async function printOffers(call: StaffCall): Promise<Answer> {
  const { db, business, today, query } = call;
  const asked = query.lang ?? '';
  const language = isLanguage(asked) ? asked : business.language;
  const { mostShown } = offerSettings(db);
  const list = { offers: offersFor(db, { today, mostShown, language }), currency: business.currency };
  const { units, paper, country } = business;
  const options = printOptionsFor(call, { units, paper, country, language });
  const { pdf: file } = await printWhole({ kind: 'offers', list, options });
  return pdf(file, `available-${today}.pdf`);
}
