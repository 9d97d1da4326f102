import { type Language, localeFor } from '../../shared/settings/languages.ts';
import { type Speaker, speakerFor } from '../../views/words/speaker.ts';
import type { Business } from '../plumbing/call.ts';
import type { LoadedOrder } from './queries.ts';

/** The language of what is read about an order: its own where it has one, else its customer's. */
export const languageOf = ({ order, customer }: LoadedOrder): Language => order.language ?? customer.language;

/** Who speaks to an order's customer, in that language and as numbers are written where they live. */
export function speakerOf(loaded: LoadedOrder, business: Business): Speaker {
  const language = languageOf(loaded);
  return speakerFor({ language, locale: localeFor(language, loaded.customer.country, business.locale) });
}
