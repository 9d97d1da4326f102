/**
 * Units for people. Everything is stored metric; these functions turn a stored value into the words a person
 * reads, in metric or in US customary units, rounded to what a kitchen scale, a ruler or a measuring cup can show.
 *
 * The factors are exact by definition (NIST Handbook 44, Appendix C, and NIST Special Publication 811, Appendix B):
 * 1 in = 25.4 mm; 1 US liquid quart = 57.75 cubic inches; 1 oz (avoirdupois) = 28.349523125 g; °F = 1.8 °C + 32.
 * Number and unit are joined by a no-break space (U+00A0).
 */
export type UnitSystem = 'metric' | 'us';

/** Which way to round: a limit is rounded to its safe side, everything else to the nearest. */
export type Rounding = 'nearest' | 'down' | 'up';

/** The words beside the figures, in the reader's language; `range` and `under` are filled in at the curly brackets. */
export type UnitWords = {
  range: string;
  under: string;
  inch: string;
  quart: string;
  cup: string;
  cups: string;
  tablespoon: string;
  teaspoon: string;
};

const english: UnitWords = {
  range: '{low} to {high}',
  under: 'under {least}',
  inch: 'in',
  quart: 'qt',
  cup: 'cup',
  cups: 'cups',
  tablespoon: 'tbsp',
  teaspoon: 'tsp',
};

const MM_PER_INCH = 25.4;
const LITRES_PER_QUART = 0.946352946;
// Each from its cubic inches: a dry quart is a 32nd of a bushel of 2150.42, a cubic foot 1728.
const LITRES_PER_CUBIC_INCH = 0.016387064;
const LITRES_PER_DRY_QUART = 67.200625 * LITRES_PER_CUBIC_INCH;
const LITRES_PER_CUBIC_FOOT = 1728 * LITRES_PER_CUBIC_INCH;
const CUPS_PER_QUART = 4;
const TABLESPOONS_PER_CUP = 16;
const TEASPOONS_PER_TABLESPOON = 3;
const GRAMS_PER_OUNCE = 28.349523125;
const OUNCES_PER_POUND = 16;

/** Degrees Fahrenheit of a temperature in degrees Celsius. Example: `celsiusToFahrenheit(25)` is 77. */
export function celsiusToFahrenheit(tempC: number): number {
  return (tempC * 9) / 5 + 32;
}

/** Degrees Celsius of a temperature in degrees Fahrenheit. Example: `fahrenheitToCelsius(77)` is 25. */
export function fahrenheitToCelsius(tempF: number): number {
  return ((tempF - 32) * 5) / 9;
}

/** Inches of a length in millimetres. Example: `millimetresToInches(254)` is 10. */
export function millimetresToInches(lengthMm: number): number {
  return lengthMm / MM_PER_INCH;
}

/** Millimetres of a length in inches. Example: `inchesToMillimetres(10)` is 254. */
export function inchesToMillimetres(lengthIn: number): number {
  return lengthIn * MM_PER_INCH;
}

/** US liquid quarts of a volume in litres. Example: `litresToQuarts(0.946352946)` is 1. */
export function litresToQuarts(litres: number): number {
  return litres / LITRES_PER_QUART;
}

/** Litres of a volume in US liquid quarts. Example: `quartsToLitres(1)` is 0.946352946. */
export function quartsToLitres(quarts: number): number {
  return quarts * LITRES_PER_QUART;
}

/** Litres of a volume in US dry quarts, by which some bags are sold. Example: `dryQuartsToLitres(1)` is 1.101220942715. */
export function dryQuartsToLitres(quarts: number): number {
  return quarts * LITRES_PER_DRY_QUART;
}

/** Litres of a volume in cubic feet. Example: `cubicFeetToLitres(1)` is 28.316846592. */
export function cubicFeetToLitres(cubicFeet: number): number {
  return cubicFeet * LITRES_PER_CUBIC_FOOT;
}

/** Avoirdupois ounces of a mass in grams. Example: `gramsToOunces(28.349523125)` is 1. */
export function gramsToOunces(massG: number): number {
  return massG / GRAMS_PER_OUNCE;
}

/** Grams of a mass in avoirdupois ounces. Example: `ouncesToGrams(1)` is 28.349523125. */
export function ouncesToGrams(massOz: number): number {
  return massOz * GRAMS_PER_OUNCE;
}

/**
 * A temperature in words: Celsius to a half degree, Fahrenheit to a whole one.
 * A limit must not be rounded across itself: give `down` for an upper limit and `up` for a lower one.
 * Errors: RangeError when the value is not finite.
 * Example: `formatTemp(28.3, 'us', 'en-US', 'down')` is `82 °F` (28.3 °C is 82.9 °F; 83 would be above the limit).
 */
export function formatTemp(
  tempC: number,
  units: UnitSystem,
  locale = 'en',
  rounding: Rounding = 'nearest',
): string {
  const { figure, unit } = tempParts(tempC, units, locale, rounding);
  return join(figure, unit);
}

/**
 * A span of temperatures in words, the unit said once, each end rounded inward so that the span never promises more
 * than it holds. Errors: RangeError when a value is not finite.
 * Example: `formatTempRange(20, 26, 'us')` is `68 to 78 °F` (26 °C is 78.8 °F).
 */
export function formatTempRange(
  lowC: number,
  highC: number,
  units: UnitSystem,
  locale = 'en',
  words: Pick<UnitWords, 'range'> = english,
): string {
  const low = tempParts(lowC, units, locale, 'up');
  const high = tempParts(highC, units, locale, 'down');
  return words.range.replace('{low}', low.figure).replace('{high}', join(high.figure, high.unit));
}

/**
 * A length in words. Metric: millimetres below 1 cm, then centimetres to the millimetre, whole from 1 m on.
 * US: inches to an eighth below a foot, to a quarter above.
 * Errors: RangeError when the value is negative or not finite.
 * Example: `formatLength(60, 'metric')` is `6 cm`, `formatLength(60, 'us')` is `2⅜ in` (60 / 25.4 = 2.36).
 */
export function formatLength(lengthMm: number, units: UnitSystem, locale = 'en', words = english): string {
  notNegative(lengthMm);
  if (units === 'us') {
    const inches = millimetresToInches(lengthMm);
    return fractionWords(inches, inches < 12 ? 8 : 4, [words.inch, words.inch], locale, words);
  }
  if (lengthMm < 9.5) return join(decimals(lengthMm, lengthMm < 1 ? 1 : 0, locale), 'mm');
  return join(decimals(lengthMm / 10, lengthMm < 1000 ? 1 : 0, locale), 'cm');
}

/**
 * A length for comparing with another: to a tenth of a millimetre, or to a hundredth of an inch.
 * Example: `exactLength(90.5, 'metric')` is `90.5 mm`, `exactLength(90.5, 'us')` is `3.56 in`.
 */
export function exactLength(lengthMm: number, units: UnitSystem, locale = 'en'): string {
  return units === 'us'
    ? join(decimals(millimetresToInches(lengthMm), 2, locale), 'in')
    : join(decimals(lengthMm, 1, locale), 'mm');
}

/**
 * A volume in words. Metric: millilitres (to 10 ml from 100 ml on, to 5 ml from 20 ml on), litres to a tenth, whole
 * from 20 L on. US kitchen measures: quarts, cups, tablespoons, teaspoons, each to a quarter, whole quarts from 20 on.
 * Substrate is measured loose in the same cups as water: US liquid measure, not dry quarts.
 * Errors: RangeError when the value is negative or not finite.
 * Example: `formatVolume(0.355, 'metric')` is `360 ml`, `formatVolume(0.355, 'us')` is `1½ cups`.
 */
export function formatVolume(litres: number, units: UnitSystem, locale = 'en', words = english): string {
  notNegative(litres);
  if (units === 'us') return kitchenWords(litresToQuarts(litres), locale, words);
  const ml = litres * 1000;
  if (ml < 995) {
    const step = ml >= 100 ? 10 : ml >= 20 ? 5 : 1;
    return join(decimals(Math.round(ml / step) * step, ml < 1 ? 1 : 0, locale), 'ml');
  }
  return join(decimals(litres, litres < 20 ? 1 : 0, locale), 'L');
}

/**
 * A mass in words. Metric: grams (a tenth below 10 g), kilograms to 10 g from 1 kg on. US: ounces (a hundredth below
 * 1 oz, a tenth below 1 lb), then pounds and whole ounces.
 * Errors: RangeError when the value is negative or not finite.
 * Example: `formatMass(250, 'metric')` is `250 g`, `formatMass(250, 'us')` is `8.8 oz`.
 */
export function formatMass(massG: number, units: UnitSystem, locale = 'en'): string {
  notNegative(massG);
  if (units === 'us') {
    const ounces = gramsToOunces(massG);
    if (ounces < 15.95) return join(decimals(ounces, ounces < 1 ? 2 : 1, locale), 'oz');
    const whole = Math.round(ounces);
    const rest = whole % OUNCES_PER_POUND;
    const pounds = join(decimals((whole - rest) / OUNCES_PER_POUND, 0, locale), 'lb');
    return rest === 0 ? pounds : `${pounds} ${join(decimals(rest, 0, locale), 'oz')}`;
  }
  if (massG < 999.5) return join(decimals(massG, massG < 9.95 ? 1 : 0, locale), 'g');
  return join(decimals(massG / 1000, 2, locale), 'kg');
}

function tempParts(tempC: number, units: UnitSystem, locale: string, rounding: Rounding) {
  finite(tempC);
  const value = units === 'us' ? celsiusToFahrenheit(tempC) : tempC;
  const step = units === 'us' ? 1 : 0.5;
  return { figure: decimals(roundTo(value, step, rounding), 1, locale), unit: units === 'us' ? '°F' : '°C' };
}

/** The grain of 1e-9 keeps a value that is whole but for floating point (82.00000000000001) where it is. */
function roundTo(value: number, step: number, rounding: Rounding): number {
  const steps = value / step;
  if (rounding === 'down') return Math.floor(steps + 1e-9) * step;
  if (rounding === 'up') return Math.ceil(steps - 1e-9) * step;
  return Math.round(steps) * step;
}

function kitchenWords(quarts: number, locale: string, words: UnitWords): string {
  const { quart, cup, tablespoon, teaspoon } = words;
  if (quarts >= 19.5) return join(decimals(quarts, 0, locale), quart);
  if (quarts >= 0.97) return fractionWords(quarts, 4, [quart, quart], locale, words);
  const cups = quarts * CUPS_PER_QUART;
  if (cups >= 0.23) return fractionWords(cups, 4, [cup, words.cups], locale, words);
  const tablespoons = cups * TABLESPOONS_PER_CUP;
  if (tablespoons >= 0.95) return fractionWords(tablespoons, 4, [tablespoon, tablespoon], locale, words);
  return fractionWords(tablespoons * TEASPOONS_PER_TABLESPOON, 4, [teaspoon, teaspoon], locale, words);
}

const FRACTIONS: Record<string, string> = {
  '1/8': '⅛',
  '1/4': '¼',
  '3/8': '⅜',
  '1/2': '½',
  '5/8': '⅝',
  '3/4': '¾',
  '7/8': '⅞',
};

function fractionWords(
  value: number,
  parts: 4 | 8,
  [one, many]: [one: string, many: string],
  locale: string,
  { under }: UnitWords,
): string {
  const pieces = Math.round(value * parts);
  if (pieces === 0)
    return value === 0 ? join('0', many) : under.replace('{least}', join(fraction(1, parts), one));
  const whole = Math.floor(pieces / parts);
  const rest = fraction(pieces % parts, parts);
  return join(`${whole > 0 ? decimals(whole, 0, locale) : ''}${rest}`, pieces > parts ? many : one);
}

function fraction(pieces: number, parts: 4 | 8): string {
  if (pieces === 0) return '';
  let [top, bottom] = [pieces, parts as number];
  while (top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  return FRACTIONS[`${top}/${bottom}`] ?? `${top}/${bottom}`;
}

/** Making a formatter takes far longer than formatting: each is made once. Locales and places are few. */
const formatters = new Map<string, Intl.NumberFormat>();

function formatterFor(locale: string, places: number): Intl.NumberFormat {
  const key = `${places} ${locale}`;
  const known = formatters.get(key);
  if (known) return known;
  if (formatters.size >= 500) formatters.clear();
  const made = new Intl.NumberFormat(locale, { maximumFractionDigits: places, useGrouping: false });
  formatters.set(key, made);
  return made;
}

function decimals(value: number, places: number, locale: string): string {
  // adding 0 turns a negative zero into a plain one
  const rounded = Math.round(value * 10 ** places) / 10 ** places + 0;
  return formatterFor(locale, places).format(rounded).replace('-', '−');
}

function join(figure: string, unit: string): string {
  return `${figure}\u00a0${unit}`;
}

function finite(value: number): void {
  if (!Number.isFinite(value)) throw new RangeError('not a finite number');
}

function notNegative(value: number): void {
  finite(value);
  if (value < 0) throw new RangeError('must not be negative');
}
