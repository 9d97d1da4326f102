import { addressLines } from '../../shared/customers/address.ts';
import { type Taxed, taxesOf } from '../../shared/invoices/tax.ts';
import { lineTotal } from '../../shared/orders/money.ts';
import { type Language, localeFor } from '../../shared/settings/languages.ts';
import { type Speaker, speakerFor } from '../../views/words/speaker.ts';
import { tradeWord } from '../../views/words/trade.ts';
import { type LoadedOrder, linesOf, type OrderLine } from '../orders/queries.ts';
import { languageOf } from '../orders/queries-reader.ts';
import type { Business } from '../plumbing/call.ts';
import { fingerprintOf } from '../plumbing/edits.ts';
import type { Db } from '../plumbing/open-database.ts';
import { readSpecies } from '../species/queries.ts';
import { careIn } from '../species/queries-care.ts';
import { type Invoicing, ratesOn, readInvoicing, type TaxRate } from './queries-invoicing.ts';

/** What an order's invoice would say of its lines if it were written now. */
export type InvoiceDraft = Taxed<TaxRate> & {
  lines: {
    kind: 'goods' | 'carriage';
    words: string;
    scientificName: string;
    detail: string;
    quantity: number;
    priceMinor: number;
    totalMinor: number;
  }[];
  speaker: Speaker;
  exemptWords: string;
  /** No tax is set for that day, and none says why. */
  untaxed: boolean;
};

/** The day of supply that is likely: when it left, or is to leave. */
export const likelySupplyDay = ({ order }: LoadedOrder, today: string) =>
  order.sentOn ?? order.dispatchOn ?? today;

/** The sentence in the customer's language, or the first that was written. */
function exemptWordsOf({ exempt, exemptEn, exemptDe, exemptEs }: Invoicing, language: Language): string {
  if (!exempt) return '';
  const own = { en: exemptEn, de: exemptDe, es: exemptEs }[language];
  return own || exemptEn || exemptDe || exemptEs;
}

/** The name that the customer knows, as on the care sheets. */
function nameOf(db: Db, line: OrderLine, language: Language): string {
  const species = readSpecies(db, line.speciesId);
  const care = species && careIn(db, species, language);
  if (!care) return line.commonName;
  return (care.inEnglish.includes('name') && tradeWord(language, care.commonName)) || care.commonName;
}

function makeUpOf(line: OrderLine, speaker: Speaker): string {
  const animals = [
    line.groupAdults > 0 ? speaker.counted('invoice.adults', line.groupAdults) : '',
    line.groupJuveniles > 0 ? speaker.counted('invoice.juveniles', line.groupJuveniles) : '',
  ].filter((words) => words !== '');
  return speaker.say('invoice.ofWhich', { animals: animals.join(', ') });
}

export function draftOf(
  db: Db,
  loaded: LoadedOrder,
  { business, suppliedOn }: { business: Business; suppliedOn: string },
): InvoiceDraft {
  const { order, customer } = loaded;
  const language = languageOf(loaded);
  const speaker = speakerFor({ language, locale: localeFor(language, customer.country, business.locale) });
  const settings = readInvoicing(db);
  const rates = settings.exempt ? [] : ratesOn(db, suppliedOn);
  const goods = linesOf(db, order.id).map((line) => ({
    kind: 'goods' as const,
    words: nameOf(db, line, language),
    scientificName: line.scientificName,
    detail: makeUpOf(line, speaker),
    quantity: line.groups,
    priceMinor: line.priceMinor,
    totalMinor: lineTotal(line),
  }));
  const postage = order.postageMinor;
  const carriage = {
    kind: 'carriage' as const,
    words: speaker.say('invoice.postage'),
    scientificName: '',
    detail: '',
    quantity: 1,
    priceMinor: postage,
    totalMinor: postage,
  };
  const sums = { goods: goods.reduce((sum, line) => sum + line.totalMinor, 0), carriage: postage };
  return {
    ...taxesOf(sums, rates),
    lines: postage > 0 ? [...goods, carriage] : goods,
    speaker,
    exemptWords: exemptWordsOf(settings, language),
    untaxed: !settings.exempt && rates.length === 0,
  };
}

/** A mark of all that an invoice would say but its number and days. */
export function printOf(
  { lines, taxes, totalMinor, exemptWords, speaker }: InvoiceDraft,
  loaded: LoadedOrder,
) {
  const rates = taxes.map(({ name, rateThousandths, mode, taxMinor }) => [
    name,
    rateThousandths,
    mode,
    taxMinor,
  ]);
  return fingerprintOf([lines, rates, totalMinor, exemptWords, buyerFor(loaded, speaker)]);
}

/** To whom an invoice is written. */
export function buyerFor({ customer }: LoadedOrder, speaker: Speaker) {
  const lines = addressLines(customer).slice(0, -1);
  return {
    name: customer.name,
    address: [...lines, speaker.country(customer.country)].join('\n'),
    country: customer.country,
  };
}
