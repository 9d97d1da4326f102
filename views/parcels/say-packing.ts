import type { Stand } from '../../shared/parcels/packing-day-form.ts';
import type { Way } from '../../shared/parcels/parcel-options-form.ts';
import { formatDay } from '../layout/format.ts';

/** Stands under every calculation of a parcel. */
export const caution =
  'This helps to decide and decides nothing. The law, the permits and the carrier’s own rules for live animals come first; when in doubt, do not send.';

type Load = { box: string; pack: string | null; packs: number; way: Way };

/** What a parcel travels in: 'Small foam with 1 Warm 40, held at the counter'. */
export function loadWords({ box, pack, packs, way }: Load): string {
  const warm = pack === null ? `${box}, no pack` : `${box} with ${packs} × ${pack}`;
  return way === 'held' ? `${warm}, held at the counter` : warm;
}

type Decided = {
  dispatchOn: string;
  isHeld: boolean;
  packs: number;
  box: { name: string };
  pack: { name: string } | null;
  carrier: { name: string };
  why: readonly string[];
  reason: string | null;
};

/** A decision as an order's history tells it. */
export function decidedWords(one: Decided): string {
  const load = loadWords({
    box: one.box.name,
    pack: one.pack?.name ?? null,
    packs: one.packs,
    way: one.isHeld ? 'held' : 'delivered',
  });
  const first = `To leave on ${formatDay(one.dispatchOn)} by ${one.carrier.name}: ${load}.`;
  if (one.reason === null) return first;
  return `${first} Sent although it was refused (${one.why.join('; ')}). Reason: ${one.reason}`;
}

export type CardStand = Stand | 'chosen' | 'again' | 'missing';

/** The first word about an order on the packing day, and whether it wants somebody. */
export const standWords: Record<CardStand, { word: string; tone: 'done' | 'needs-you' | 'harm' | null }> = {
  go: { word: 'Go', tone: 'done' },
  careful: { word: 'Careful', tone: 'needs-you' },
  wait: { word: 'Wait', tone: 'needs-you' },
  never: { word: 'Cannot be sent', tone: 'harm' },
  later: { word: 'Later', tone: null },
  unknown: { word: 'No forecast', tone: 'needs-you' },
  chosen: { word: 'Decided', tone: 'done' },
  again: { word: 'Decide again', tone: 'harm' },
  missing: { word: 'Something is missing', tone: 'needs-you' },
};

export type MissingWords = { text: string; href: string; label: string };

const missing = {
  lines: { text: 'Nothing is on this order.', href: '/orders', label: 'Look at the orders' },
  boxes: {
    text: 'No box is in use, so there is nothing to send it in.',
    href: '/parcels/stock',
    label: 'Write boxes down',
  },
  origin: {
    text: 'Nobody has said where your parcels start.',
    href: '/parcels/carriers#habits',
    label: 'Say where',
  },
  carrier: {
    text: 'No carrier is named for it.',
    href: '/parcels/carriers',
    label: 'Write the carrier down, or choose one',
  },
};

/** What to do where nothing can be worked out for an order. */
export function missingWords(
  what: keyof typeof missing | 'place' | 'weather' | { holidays: string },
  order: { number: number; places: readonly { name: string; readAt: number | null }[] },
): MissingWords {
  if (typeof what === 'object')
    return {
      text: `The carrier’s country ${what.holidays}.`,
      href: '/parcels/carriers',
      label: 'Mend the carrier',
    };
  if (what === 'place')
    return {
      text: 'It is not known whose weather counts where it goes.',
      href: `/parcels/orders/${order.number}#way`,
      label: 'Choose a place of the weather',
    };
  if (what === 'weather') {
    const names = order.places.filter(({ readAt }) => readAt === null).map(({ name }) => name);
    return {
      text: `There is no forecast for ${names.join(' and ')}.`,
      href: '/parcels/weather',
      label: 'Write the weather down',
    };
  }
  return missing[what];
}

/** Refusals begin small, because they stand behind a colon. */
export const asSentence = (words: string): string =>
  `${words.slice(0, 1).toUpperCase()}${words.slice(1)}${/[.!?]$/.test(words) ? '' : '.'}`;
