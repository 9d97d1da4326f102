/** Time zones, currencies and ways to write numbers, as this JavaScript engine's own tables list them. */

export type Named = { value: string; label: string };

/** UTC is a zone to live by (a ship, a station) but no engine lists it. */
const zones: readonly string[] = [...Intl.supportedValuesOf('timeZone'), 'UTC'];

/**
 * Whether a time zone's IANA name can be used here; also older names that the list leaves out.
 *
 * @example isTimeZone('Europe/Berlin') // true
 */
export function isTimeZone(name: string): boolean {
  // An offset such as +01:00 is accepted by newer engines but knows no summer time.
  if (!/^[A-Za-z]/.test(name)) return false;
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

/**
 * All time zones, by the part of the world before the stroke.
 *
 * @example timeZones()[0]?.group // 'Africa'
 */
export function timeZones(): { group: string; options: Named[] }[] {
  const groups = new Map<string, Named[]>();
  for (const zone of zones) {
    const stroke = zone.indexOf('/');
    const group = stroke < 0 ? 'Without a place' : zone.slice(0, stroke);
    const label = zone
      .slice(stroke + 1)
      .replaceAll('_', ' ')
      .replaceAll('/', ', ');
    groups.set(group, [...(groups.get(group) ?? []), { value: zone, label }]);
  }
  return [...groups].map(([group, options]) => ({ group, options }));
}

const currencyCodes = new Set(Intl.supportedValuesOf('currency'));

/**
 * Whether the text is a currency's code (ISO 4217).
 *
 * @example isCurrency('EUR') // true
 */
export const isCurrency = (code: string): boolean => currencyCodes.has(code);

/**
 * All currencies with their English names, sorted by name.
 *
 * @example currencies()[0] // { value: 'AFN', label: 'Afghan Afghani (AFN)' }
 */
export function currencies(): Named[] {
  const namer = new Intl.DisplayNames('en', { type: 'currency' });
  return [...currencyCodes]
    .map((code) => ({ value: code, label: `${namer.of(code) ?? code} (${code})` }))
    .sort((a, b) => a.label.localeCompare(b.label, 'en'));
}

/** English in the ways of several places: the words stay, numbers and dates differ. */
const numberForms = [
  'en-GB',
  'en-US',
  'en-CA',
  'en-AU',
  'en-IN',
  'en-AT',
  'en-DK',
  'en-SE',
  'en-CH',
  'en-ZA',
];

export const isNumberForm = (locale: string): boolean => numberForms.includes(locale);

/** A day in the sample whose number cannot be taken for a month. */
const sampleDay = Date.UTC(2027, 2, 29, 14, 5);

function sampleOf(locale: string): string {
  const number = new Intl.NumberFormat(locale, { maximumFractionDigits: 1 }).format(12_345.6);
  const moment = new Intl.DateTimeFormat(locale, {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
    timeZone: 'UTC',
  }).format(sampleDay);
  // Engines differ in the kind of space they put between digits; to the eye they are one.
  return `${number}; ${moment}`.replace(/\s/g, ' ');
}

/**
 * Ways to write numbers and dates, each shown by an example; two that look alike are offered once (`chosen` is always
 * among them).
 *
 * @example numberFormChoices('en-GB')[0]?.value // 'en-GB'
 */
export function numberFormChoices(chosen: string): Named[] {
  const bySample = new Map<string, Named>();
  for (const value of numberForms) {
    const label = sampleOf(value);
    if (!bySample.has(label) || value === chosen) bySample.set(label, { value, label });
  }
  return [...bySample.values()];
}

/**
 * The way to write numbers and dates that is likely wanted in a country.
 *
 * @example likelyNumberForm('DE') // 'en-AT', which writes 12.345,6
 */
export function likelyNumberForm(country: string): string {
  const own = `en-${country}`;
  if (isNumberForm(own)) return own;
  const sample = sampleOf(own);
  return numberForms.find((locale) => sampleOf(locale) === sample) ?? (country === 'US' ? 'en-US' : 'en-GB');
}
