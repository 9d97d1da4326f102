import type { CountMethod } from '../../shared/counts/form.ts';

export type MethodWords = { label: string; good: string; takes: string; how: string };

/** When each way of counting is good and what it costs. Times: common practice, no source. */
export const methodWords: Record<CountMethod, MethodWords> = {
  visible: {
    label: 'Seen without digging',
    good: 'Between real counts, at any check.',
    takes: 'About a minute',
    how: 'Open the lid and count what shows at the wall, under the lid and on the bark, before it hides. Most of the colony stays out of sight, so this says little by itself.',
  },
  full: {
    label: 'All of them',
    good: 'Small colonies, and before a large order.',
    takes: '20 to 60 minutes',
    how: 'Take everything out, sort it over a white tray and count every animal, young ones too. It disturbs the colony: not more than every few months.',
  },
  sample: {
    label: 'Part of the substrate',
    good: 'Large colonies in deep substrate.',
    takes: '10 to 20 minutes',
    how: 'Lift out a measured part of the substrate, from top to bottom and from a place like the rest, and count every animal in it. Animals sit in clumps, so a larger part says much more.',
  },
  removal: {
    label: 'Catches one after another',
    good: 'Animals that come to bait or bark.',
    takes: '15 to 30 minutes',
    how: 'Catch for the same time in the same way, two to five times, and keep each catch apart. Put everything back at the end. The catches must get smaller.',
  },
  'mark-recapture': {
    label: 'Mark and catch again',
    good: 'Large adults that do not moult meanwhile.',
    takes: 'Two visits, some days apart',
    how: 'Mark some with a dot of paint that is safe for animals, away from joints and air holes, and let them go. When they have mixed, catch again and count the marks. A moult takes the mark away: use it on adults only.',
  },
};

export const estimatorWords: Record<string, { label: string; help: string }> = {
  'carle-strub': { label: 'Carle and Strub', help: 'the usual one' },
  zippin: { label: 'Zippin', help: 'the likeliest number' },
  'seber-two-pass': { label: 'Two catches', help: 'Seber and Le Cren' },
  chapman: { label: 'Chapman', help: 'the usual one' },
  petersen: { label: 'Petersen', help: 'needs many marked again' },
};
