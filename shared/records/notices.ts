import type { FileKind } from './entries.ts';

/** What a person should know of a row that was read, in order of weight: nothing here keeps a row out. */
export const noticeKinds = {
  'split-number-differs': 'A split and a founding tell different numbers',
  'split-date-differs': 'A split and a founding tell different days',
  'parent-from-split': 'The parent is known from the split only',
  'animals-shared-out': 'Founding animals shared out among several parents',
  'split-from-founding': 'Splits told by the founding of the new culture only',
  'line-differs': 'Another line than the parent',
  'line-of-two-species': 'One name for lines of two species',
  'differs-from-records': 'Differs from what the records say',
  'same-row': 'The same row again',
  'rough-amount': 'Rough numbers of animals moved',
  'rough-full-count': 'Full counts that are put roughly',
  'die-off-doubt': 'Shares lost that are put roughly',
  'die-off-assumed': 'Die-offs with the share that was set for all',
  'water-assumed': 'Waterings with the amount that was set for all',
  'animals-assumed': 'Founding animals that were set for all',
  'animals-from-split': 'Founding animals taken from the split',
  'ended-on-assumed': 'Retired cultures without a day',
  'number-kept-in-note': 'Numbers that the entry has no place for',
  'two-digit-year': 'Years of two digits, taken as 20yy',
  'time-left-out': 'Times of day that were left out',
  'code-tidied': 'Codes with spaces, written with hyphens',
  'code-as-in-records': 'Codes written in another form',
  'formula-as-text': 'Formulas, kept as plain text',
  'markup-as-text': 'Markup or script, kept as plain text',
  'mend-not-used': 'Mends for rows that are not in this file',
} as const;

export type NoticeKind = keyof typeof noticeKinds;

export interface Notice {
  kind: NoticeKind;
  file: FileKind;
  line: number | null;
  message: string;
}
