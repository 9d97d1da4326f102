/**
 * How many digits the minor unit of a currency has (ISO 4217, as the platform's own locale data gives it).
 *
 * @example minorDigits('JPY') // 0
 */
export function minorDigits(currency: string): number {
  const format = new Intl.NumberFormat('en', { style: 'currency', currency });
  return format.resolvedOptions().maximumFractionDigits ?? 2;
}
