import type { Trouble } from '../../shared/traces/form.ts';
import { formatDay } from '../layout/format.ts';

export type DraftAbout = {
  what: Trouble;
  seenOn: string;
  order: number;
  customerName: string;
  /** The box is still here. */
  isHere: boolean;
  /** The animals came from the very culture in which it was found, not from one that had contact. */
  isDirect: boolean;
  harvests: readonly { scientificName: string; onDay: string; animals: number }[];
  business: { name: string; email: string };
  locale?: string;
};

type Advice = { seen: string; lookFor: string[]; doThis: string[] };

// What to look for and what to do is common practice, no source.
const advice: Record<Trouble, Advice> = {
  mites: {
    seen: 'we saw mites in one of our cultures',
    lookFor: [
      'pale or brown specks, smaller than a grain of salt, that move: on food, at the rim, on the animals',
      'a fine grey dust on the lid or the walls that was not there before',
    ],
    doThis: [
      'Take food out that is not eaten within a day, and let the top of the substrate dry a little on one side.',
      'Use no spray, powder or strip against pests: it harms your animals too.',
    ],
  },
  mould: {
    seen: 'we saw mould spread in one of our cultures',
    lookFor: [
      'threads or a coat of white, grey or green that grows from day to day; a little on fresh wood or food is usual',
      'a musty smell when you lift the lid',
    ],
    doThis: [
      'Take mouldy food and leaves out, give more air and a little less water.',
      'Do not breathe in over it, and wash your hands; leave it to somebody else if you are allergic to mould.',
    ],
  },
  'wrong species': {
    seen: 'we found animals of another species in one of our cultures',
    lookFor: ['animals whose shape, pattern or way of moving differs from the others, young ones too'],
    doThis: [
      'Keep all of them in their enclosure until we know what they are, and pass none on.',
      'Send us a picture: a sharp one from above with something beside it that shows the size.',
    ],
  },
  'die-off': {
    seen: 'many animals died in one of our cultures, and we do not know yet why',
    lookFor: [
      'animals that lie dead or hardly move, more than one or two',
      'a sour or rotten smell, or a corner that stays wet',
    ],
    doThis: [
      'Take dead animals and old food out with tweezers, and give fresh air.',
      'If they get worse, move the ones that look well to a clean box with damp, fresh substrate.',
    ],
  },
};

const always = [
  'Keep this enclosure apart from your others for four weeks and handle it last; wash hands and tools after it.',
  'Never put animals or substrate outdoors.',
  'If your animals look unwell, write to us or ask a vet who knows invertebrates.',
];

const list = (lines: readonly string[]) => lines.map((line) => `- ${line}`).join('\n');

function whatWasSent({ harvests, isHere, locale }: DraftAbout): string {
  const each = harvests.map(
    ({ animals, scientificName, onDay }) =>
      `${animals} ${scientificName}, ${isHere ? 'taken out' : 'packed'} on ${formatDay(onDay, locale, 'letter')}`,
  );
  return each.length === 0 ? '' : `It concerns: ${each.join('; ')}.`;
}

/**
 * A first draft of what a customer is told, in plain text: what was seen and when, what to look for, what to do. The
 * owner changes it before anybody reads it.
 */
export function draftNotice(about: DraftAbout): string {
  const { what, seenOn, order, customerName, isHere, isDirect, business, locale } = about;
  const { seen, lookFor, doThis } = advice[what];
  const from = isDirect ? 'that culture' : 'a culture that had contact with that one';
  const opening = `On ${formatDay(seenOn, locale, 'letter')} ${seen}. Animals of your order ${order} come from ${from}.`;
  const rest = isHere
    ? [
        'Your order has not left us yet. We look through it first, and write again before anything is sent.',
        'You need not do anything now.',
      ]
    : [
        'Nothing need be wrong with your animals. Please have a look all the same, today and once a week for a month.',
        `What to look for:\n${list(lookFor)}`,
        `What to do:\n${list([...doThis, ...always])}`,
        'Please tell us what you find, also when it is nothing.',
      ];
  const sign = ['With kind regards', business.name, business.email].filter(Boolean).join('\n');
  return [`Dear ${customerName},`, opening, whatWasSent(about), ...rest, sign].filter(Boolean).join('\n\n');
}

export const draftSubject = (order: number) => `Your order ${order}: please have a look at your animals`;

/** How a history begins that tells of a notice about a culture. */
export const toldBegin = (code: string, what: Trouble) => `Told the customer about ${code} (${what}):`;
