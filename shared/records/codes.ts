/** Culture codes that can be found again in the forms people write them. */
export interface CodeIndex {
  byForm: Map<string, string[]>;
  byLooseForm: Map<string, string[]>;
  exact: Set<string>;
}

export type CodeMatch = { code: string } | { ambiguous: string[] } | null;

/**
 * The form in which two ways to write one code are the same: its runs of letters and of digits, in lower case.
 * '' where there is neither.
 *
 * @example codeForm('po 020') // 'po-020', as of 'PO-020' and 'Po020'
 */
export function codeForm(text: string): string {
  return (
    text
      .normalize('NFKC')
      .toLowerCase()
      .match(/\p{N}+|\p{L}+/gu) ?? []
  ).join('-');
}

/** Collects codes for `findCode`. The codes themselves stay as they are. */
export function indexCodes(codes: Iterable<string>): CodeIndex {
  const index: CodeIndex = { byForm: new Map(), byLooseForm: new Map(), exact: new Set() };
  for (const code of codes) {
    if (index.exact.has(code)) continue;
    index.exact.add(code);
    append(index.byForm, codeForm(code), code);
    append(index.byLooseForm, looseForm(code), code);
  }
  return index;
}

/**
 * The code that is meant: the very same text first, then the one code of the same form, then the one that differs
 * only in leading zeros. Two that fit are told as ambiguous, never chosen from.
 *
 * @example findCode(indexCodes(['PO-020']), 'po 20') // { code: 'PO-020' }
 */
export function findCode(index: CodeIndex, text: string): CodeMatch {
  const written = text.trim();
  if (index.exact.has(written)) return { code: written };
  const form = codeForm(written);
  if (form === '') return null;
  const found = index.byForm.get(form) ?? index.byLooseForm.get(looseForm(written));
  if (!found) return null;
  return found.length === 1 ? { code: found[0]! } : { ambiguous: found };
}

/** Whether a cell looks like a culture code: a few letters and a number, for guessing what a column holds. */
export function looksLikeCode(cell: string): boolean {
  return (
    /^\p{L}{1,8}[\s\-_./#]?\d{1,6}\p{L}?$/u.test(cell.trim()) || /^#?\d{1,6}\p{L}{1,3}$/u.test(cell.trim())
  );
}

function looseForm(text: string): string {
  return codeForm(text).replace(/(^|-)0+(?=\d)/g, '$1');
}

function append(map: Map<string, string[]>, key: string, code: string): void {
  const list = map.get(key);
  if (list) list.push(code);
  else map.set(key, [code]);
}
