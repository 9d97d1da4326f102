import type { MovementReason } from './judge.ts';

/** What a finding means, in a sentence of its own. */
export const reasonWords: Record<MovementReason, string> = {
  forbidden: 'This rule does not allow it.',
  'no permit': 'This rule asks for a permit, and no number of one is written down.',
  'permit expired': 'The permit is no longer valid on the day the parcel leaves.',
  'permit ends soon': 'The permit ends soon. Renew it in time.',
  permitted: 'A permit covers it.',
  caution: '',
  'not checked':
    'Nobody has checked this rule yet. Read it where it is published, then say so; until then it only warns.',
  'place unknown':
    'It may be about this parcel: the country or the region of one end is not written down, or not known as such.',
};

/** What a person can do about a finding that blocks. */
export const whatToDo: Partial<Record<MovementReason, string>> = {
  forbidden:
    'Take these animals off the order, send it elsewhere, or cancel it. Where the rule has changed, change it in the table.',
  'no permit':
    'Get the permit, then write its number and its end into the rule. Until then this parcel may not go.',
  'permit expired':
    'Renew the permit and write its new end into the rule, or choose a dispatch day before it ends.',
};

/** Stands under everything that is said of rules. */
export const whoDecides =
  'This table helps to remember rules; it does not know the law. Local law, the carrier and licensed practice decide.';
