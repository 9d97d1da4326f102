/**
 * What can be wrong with a row. The title names the kind in a list, `mend` says what usually puts it right; a
 * single fault may say it better.
 */
export const faultKinds = {
  'quotes-broken': [
    'Quotation marks do not pair up',
    'Close the quotation mark, or write it twice inside a quoted cell.',
  ],
  ragged: [
    'Too many or too few cells',
    'Give the row as many cells as the header has; a text that holds the delimiter needs quotation marks.',
  ],
  'cell-too-long': ['A cell is too long', 'Shorten the text to 10,000 characters.'],
  'broken-text': ['Letters that cannot be read', 'Save the file again as UTF-8, or choose its encoding.'],
  'control-character': ['Invisible characters', 'Type the cell again.'],
  'date-missing': ['No date', 'Write the day; where only the month is known, its first day will do.'],
  'date-not-understood': [
    'A date that is not understood',
    'Write it as year-month-day, 2026-03-09; where only the month is known, its first day will do.',
  ],
  'date-impossible': ['A day that is not on the calendar', 'Write the day that was meant.'],
  'date-ambiguous': ['Day first or month first?', 'Say in which order this column has day and month.'],
  'date-too-old': ['A date before 1950', 'Write the year in full.'],
  'date-in-future': ['A date in the future', 'Write the day on which it happened.'],
  'date-before-founding': [
    'Before the culture was founded',
    'Mend this date or the founding day of the culture.',
  ],
  'code-missing': ['No culture code', 'Write the code of the culture.'],
  'code-unknown': [
    'An unknown culture code',
    'Write a code that is in the records or in the file of cultures, or bring in that culture first.',
  ],
  'code-ambiguous': ['A code that fits several cultures', 'Write the code exactly as the culture has it.'],
  'code-not-usable': [
    'A code that cannot be used',
    'A code has 1 to 24 letters and digits, with hyphens, dots or slashes between.',
  ],
  'culture-faulty': ['The culture has faults itself', 'Mend the row of that culture: these come in with it.'],
  'duplicate-code': [
    'Two cultures with one code',
    'Give each culture a code of its own, or leave out the second row.',
  ],
  'word-missing': ['Not told what happened', 'Write what was done or seen.'],
  'word-not-understood': [
    'A word that is not understood',
    'Say what this word means, or that its rows are left out.',
  ],
  'number-missing': ['No number', 'Write how many; a guess such as “about 40” will do.'],
  'number-not-understood': ['Not a number', 'Write a number; “about 40”, “40+” and “40-50” are understood.'],
  'number-negative': ['A number below zero', 'Write how many as a number of 0 or more.'],
  'number-not-whole': ['Not a whole number', 'Animals are counted in whole numbers.'],
  'number-zero': ['Nothing moved', 'Write how many animals, at least 1, or leave the row out.'],
  'number-too-large': [
    'More than can be true',
    'Write the number that was meant, or say how many the largest colony may hold.',
  ],
  'more-than-there': [
    'More taken than could be there',
    'Write the number that was meant, or say how many the largest colony may hold.',
  ],
  'unit-not-understood': ['An amount that is not understood', 'Write millilitres: 30, or 30 ml.'],
  'share-missing': [
    'Not told how many died',
    'Write the share lost in the note, “lost about 30%”, or say a share for all such rows.',
  ],
  'text-missing': ['Nothing is told', 'Write it in the note.'],
  'text-too-long': ['A text is too long', 'Shorten it.'],
  'details-missing': ['A figure is missing that this count needs', 'Write it in the note or the details.'],
  'details-not-understood': ['Details that are not understood', 'Write “name: value”, parted by semicolons.'],
  'child-missing': [
    'The new culture is not named',
    'Write its code in the note, “to PO-021”, or take the word for a harvest.',
  ],
  'child-unknown': [
    'The new culture is unknown',
    'Bring in the new culture with the file of cultures, or mend its code.',
  ],
  'split-parent-differs': [
    'Split from another parent',
    'Mend the split or the parent that the culture names, so that both tell the same.',
  ],
  'split-twice': [
    'The same culture split off twice',
    'Write the later one as a harvest here and an addition there.',
  ],
  'species-missing': ['No species', 'Write the scientific or the common name.'],
  'parent-unknown': [
    'An unknown origin',
    'Write wild, bought or the code of the parent, or say what this word means.',
  ],
  'parent-faulty': ['The parent has faults itself', 'Mend the row of the parent: these come in with it.'],
  'parent-cycle': ['Its own ancestor', 'Mend the parents: a culture cannot descend from itself.'],
  'older-than-parent': ['Older than its parent', 'Mend the founding day of one of the two, or the parent.'],
  'parent-other-species': ['Parent of another species', 'Mend the species or the parent.'],
  'status-not-understood': [
    'A status that is not understood',
    'Say what this word means: active, quarantine or retired.',
  ],
} as const satisfies Record<string, readonly [title: string, mend: string]>;

export type FaultKind = keyof typeof faultKinds;

export interface RowFault {
  kind: FaultKind;
  /** The column it stands in; null for the row as a whole. */
  column: string | null;
  reason: string;
  mend: string;
}

export function rowFault(
  kind: FaultKind,
  reason: string,
  column: string | null = null,
  mend?: string,
): RowFault {
  return { kind, column, reason, mend: mend ?? faultKinds[kind][1] };
}
