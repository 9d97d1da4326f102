// A spreadsheet runs a cell that begins with one of these as a formula (OWASP, "CSV Injection"); the wide forms
// are read as the same signs in East Asian settings.
const STARTS_A_FORMULA = /^'*[=+\-@\t\r\n＝＋－＠]/;
const PLAIN_NUMBER = /^-?\d+(?:\.\d+)?$/;

/**
 * A cell for a CSV export that no spreadsheet will run: text that begins like a formula gets an apostrophe in
 * front. Numbers stay as they are, negative ones too. `restore` gives back the very same text.
 *
 * @example neutralise('=1+1') // "'=1+1"
 * @example neutralise(-4) // '-4'
 */
export function neutralise(cell: string | number): string {
  if (typeof cell === 'number') return String(cell);
  if (PLAIN_NUMBER.test(cell)) return cell;
  return STARTS_A_FORMULA.test(cell) ? `'${cell}` : cell;
}

/** Takes off the apostrophe that `neutralise` put there; any other text comes back unchanged. */
export function restore(cell: string): string {
  return cell.startsWith("'") && STARTS_A_FORMULA.test(cell) ? cell.slice(1) : cell;
}

/** Whether a spreadsheet would run this cell as a formula. */
export function isFormula(cell: string): boolean {
  return /^[=+@＝＋＠]/.test(cell) && !/^[+]?[\d\s.,]+$/.test(cell);
}
